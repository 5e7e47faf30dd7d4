import { type NoFit, noFit } from './coefficient.js';
import { type LikelihoodRatio, likelihoodRatio } from './likelihood-ratio.js';
import { type LogisticFit, type LogOdds, logisticRegression, type RegressionOptions } from './logistic.js';
import { logistic } from './logit-hill.js';
import { knotsAt, splineColumns, splineTerms } from './restricted-cubic-spline.js';

/** The chance of the event at a value, with its pointwise interval. */
export interface CurvePoint {
  readonly at: number;
  readonly probability: number;
  readonly lower: number;
  readonly upper: number;
  readonly logOdds: LogOdds;
}

export interface LogisticCurve {
  readonly knots: readonly number[];
  readonly fit: LogisticFit;
  readonly points: readonly CurvePoint[];
  /** Of the curve against one chance for all. */
  readonly association: LikelihoodRatio;
  /** Of the curve against a straight line of log odds. */
  readonly nonLinearity: LikelihoodRatio;
}

export interface CurveOptions extends RegressionOptions {
  /** How many knots, or the quantiles at which they stand; 4 where nothing is said. */
  readonly knots?: 3 | 4 | 5 | readonly number[];
}

/**
 * The chance of an event over one predictor, by logistic regression on a restricted cubic spline. Its interval holds at
 * each value by itself, and not for the curve as a whole. Source: Harrell, Regression Modeling Strategies, 2nd ed. 2015,
 * section 2.4.
 *
 * @param values of the predictor, finite
 * @param events true or 1 of each patient who has it
 * @param at where the curve is wanted; beyond the outer knots it is a straight line of log odds
 * @returns the reason where knots fall together or the regression has no result
 * @throws RangeError where lists differ in length or hold something else
 */
export function logisticCurve(
  values: ArrayLike<number>,
  events: ArrayLike<number | boolean>,
  at: readonly number[],
  { knots: wanted = 4, ...options }: CurveOptions = {},
): LogisticCurve | NoFit {
  if (values.length === 0) return noFit('there are no patients');
  const knots = knotsAt(values, wanted);
  if (!Array.isArray(knots)) return noFit(knots.reason);
  const fit = logisticRegression(splineColumns(values, knots), events, options);
  if ('reason' in fit) return fit;
  const line = logisticRegression([values], events, options);
  if ('reason' in line) return line;
  const level = options.level ?? 0.95;
  return {
    knots,
    fit,
    points: at.map((x) => {
      const logOdds = fit.logOddsAt(splineTerms(x, knots), level);
      const [probability, lower, upper] = [logOdds.value, logOdds.lower, logOdds.upper].map(logistic);
      return { at: x, probability, lower, upper, logOdds };
    }),
    association: likelihoodRatio(fit.nullDeviance, fit.deviance, fit.slopes.length),
    nonLinearity: likelihoodRatio(line.deviance, fit.deviance, fit.slopes.length - 1),
  };
}
