import type { Figure } from '../figure.js';

/** Limits stand so many standard deviations from the centre line. */
export const LIMIT_SIGMAS = 3;

/** A point with its limits, in the unit of the values. */
export interface ControlPoint {
  readonly value: Figure;
  readonly lower: Figure;
  readonly upper: Figure;
  /** On which side it is beyond a limit; null where it is not, or nothing can be told. */
  readonly beyond: 'above' | 'below' | null;
}

/** A point that cannot be judged. */
export const unjudged = (value: Figure, reason: string): ControlPoint => ({
  value,
  lower: { reason },
  upper: { reason },
  beyond: null,
});

/** A point judged by its limits; one that is on a limit but for rounding is not beyond it. */
export function judged(value: number, lower: number, upper: number): ControlPoint {
  const slack = 1e-9 * Math.max(Math.abs(value), Math.abs(lower), Math.abs(upper));
  const beyond = value > upper + slack ? 'above' : value < lower - slack ? 'below' : null;
  return { value, lower, upper, beyond };
}
