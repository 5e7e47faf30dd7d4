import type { Figure } from '../figure.js';

/** A figure with its interval; each of the three may be missing, with its reason. */
export interface Estimate {
  readonly value: Figure;
  /** Bounds of the interval. */
  readonly lower: Figure;
  readonly upper: Figure;
}

/** Where nothing can be said, for one reason. */
export const noEstimate = (reason: string): Estimate => ({
  value: { reason },
  lower: { reason },
  upper: { reason },
});

/** Where a figure has no interval. */
export const noBounds = (reason: string): Pick<Estimate, 'lower' | 'upper'> => ({
  lower: { reason },
  upper: { reason },
});

/** Refuses what no caller may ask: a mistake of the program, not of the data. */
export function insist(isSo: boolean, expected: string): void {
  if (!isSo) throw new RangeError(`Expected ${expected}`);
}
