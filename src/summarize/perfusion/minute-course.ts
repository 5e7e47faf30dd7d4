/** A quantity a minute: `values[i]` stands for the time that ends at `firstEnd + i` minutes; NaN where it is unknown. */
export interface MinuteCourse {
  /** Milliseconds since 1970-01-01 UTC, a multiple of 60,000. */
  readonly firstEnd: number;
  readonly values: Float64Array;
}

/** Milliseconds in a minute. */
export const MINUTE_MS = 60_000;
