/** So many standard deviations on both sides of the mean hold 95 % of a normal distribution. */
const WITHIN = 1.96;

/** How far two ways of measuring the same differ, in the unit of the differences. */
export interface LimitsOfAgreement {
  readonly mean: number;
  /** Of the differences, with n - 1. */
  readonly sd: number;
  readonly lower: number;
  readonly upper: number;
}

/**
 * Mean difference and limits of agreement, mean +- 1.96 SD. Source: Bland & Altman, Lancet 1986;1:307-10.
 *
 * @param differences two or more
 */
export function limitsOfAgreement(differences: readonly number[]): LimitsOfAgreement {
  const n = differences.length;
  const mean = differences.reduce((sum, x) => sum + x, 0) / n;
  const squares = differences.reduce((sum, x) => sum + (x - mean) ** 2, 0);
  const sd = Math.sqrt(squares / (n - 1));
  return { mean, sd, lower: mean - WITHIN * sd, upper: mean + WITHIN * sd };
}
