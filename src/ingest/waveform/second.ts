export const SECOND_MS = 1000;

/** The start of the whole second, or of a longer window on multiples of it, that an instant stands in. */
export const secondOf = (utcMs: number, lengthMs: number = SECOND_MS): number =>
  Math.floor(utcMs / lengthMs) * lengthMs;
