import { Matrix } from 'ml-matrix';
import { insist } from '../estimate.js';
import { climb } from './climb.js';
import { type Coefficient, coefficientOf, type NoFit, noFit, noSummit } from './coefficient.js';
import { CumulativeHill } from './cumulative-hill.js';
import { type Columns, changeToOwn, designOf, withLast } from './design.js';
import { inverseOf } from './inverse.js';
import type { RegressionOptions } from './logistic.js';
import { type Profile, profileOfLast } from './profile.js';

export interface ProportionalOddsFit {
  readonly count: number;
  /** The different outcomes, rising, and how many have each. */
  readonly categories: readonly { readonly outcome: number; readonly count: number }[];
  /** Log odds of an outcome of at most each category but the last, where all predictors are 0. */
  readonly cuts: readonly Coefficient[];
  /** In the order of the predictors; above 0 where more of the predictor goes with a higher outcome. */
  readonly slopes: readonly Coefficient[];
  /** Of the cuts and the slopes. */
  readonly covariance: readonly (readonly number[])[];
  readonly logLikelihood: number;
  readonly deviance: number;
  /** That of the cuts alone. */
  readonly nullDeviance: number;
  /** Of the predictor with that index: the interval and test that the likelihood itself gives. */
  profile(predictor: number, level?: number): Profile;
}

/**
 * Regression of an outcome in ordered categories by proportional odds (cumulative logits): each predictor moves the odds
 * of every "at most this" by one factor. Standard errors by the observed information. As R's `MASS::polr`, with its signs.
 * Source: McCullagh, J R Stat Soc B 1980;42:109-42.
 *
 * @param columns the predictors, a list each, finite
 * @param outcomes finite numbers of which only the order counts
 * @returns the reason where all outcomes are the same, predictors tell nothing of their own, or they part the outcomes
 * @throws RangeError where lists differ in length or hold something else
 */
export function proportionalOdds(
  columns: Columns,
  outcomes: ArrayLike<number>,
  { weights, level = 0.95 }: RegressionOptions = {},
): ProportionalOddsFit | NoFit {
  insist(Array.from(outcomes).every(Number.isFinite), 'finite outcomes');
  const design = designOf(columns, outcomes.length, weights);
  if ('reason' in design) return noFit(design.reason);
  const kept = Array.from(design.rows, (i) => outcomes[i]);
  const levels = [...new Set(kept)].sort((a, b) => a - b);
  if (levels.length < 2) return noFit('all have the same outcome');
  const places = new Map(levels.map((outcome, j) => [outcome, j]));
  const ranks = Uint32Array.from(kept, (outcome) => places.get(outcome)!);
  const counts = levels.map(() => 0);
  ranks.forEach((rank, r) => {
    counts[rank] += design.weights[r];
  });
  const count = counts.reduce((sum, n) => sum + n, 0);
  const cutCount = levels.length - 1;
  const start = new Float64Array(cutCount + design.width);
  let below = 0;
  for (let j = 0; j < cutCount; j++) {
    below += counts[j];
    start[j] = Math.log(below / (count - below));
  }
  const hill = new CumulativeHill(design, ranks, levels.length);
  const summit = climb(hill, start);
  if (summit === null || typeof summit === 'string') return noSummit(summit);
  const change = changeToOwn(design, cutCount, 1);
  const values = change.mmul(Matrix.columnVector(summit.place)).getColumn(0);
  const covariance = change.mmul(inverseOf(summit.information)).mmul(change.transpose()).to2DArray();
  const all = values.map((value, k) => coefficientOf(value, Math.sqrt(covariance[k][k]), level));
  return {
    count,
    categories: levels.map((outcome, j) => ({ outcome, count: counts[j] })),
    cuts: all.slice(0, cutCount),
    slopes: all.slice(cutCount),
    covariance,
    logLikelihood: summit.value,
    deviance: -2 * summit.value,
    nullDeviance: -2 * counts.reduce((sum, n) => sum + n * Math.log(n / count), 0),
    profile: (predictor, own = 0.95) => {
      const turned = designOf(withLast(columns, predictor), outcomes.length, weights);
      // Never so: the same predictors in another order.
      if ('reason' in turned) return { lower: turned, upper: turned, p: turned };
      return profileOfLast(new CumulativeHill(turned, ranks, levels.length), start, turned, own);
    },
  };
}
