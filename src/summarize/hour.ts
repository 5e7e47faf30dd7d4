/** Milliseconds in an hour: signals count in milliseconds, figures in hours. */
export const HOUR_MS = 3_600_000;
