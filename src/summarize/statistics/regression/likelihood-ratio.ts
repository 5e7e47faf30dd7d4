import { insist } from '../estimate.js';
import { chiSquareTail } from '../tails.js';

/** Of two models of the same patients of which the one holds the other. */
export interface LikelihoodRatio {
  /** How much lower the deviance of the larger model is. */
  readonly chiSquare: number;
  /** Degrees of freedom. */
  readonly freedom: number;
  readonly p: number;
}

/**
 * The likelihood ratio test. Source: Wilks, Ann Math Stat 1938;9:60-2.
 *
 * @param smaller deviance of the model with fewer coefficients
 * @param larger deviance of the model with more
 * @param freedom how many more
 * @throws RangeError where the larger model fits worse by more than rounding, which no larger model does
 */
export function likelihoodRatio(smaller: number, larger: number, freedom: number): LikelihoodRatio {
  const difference = smaller - larger;
  insist(
    difference >= -1e-8 * (1 + Math.abs(smaller)),
    `a deviance of at most ${smaller} where there are more coefficients, and got ${larger}`,
  );
  const chiSquare = Math.max(0, difference);
  return { chiSquare, freedom, p: chiSquareTail(chiSquare, freedom) };
}
