import { insist } from '../../statistics/estimate.js';
import { quantileSorted } from '../../statistics/quantile-sorted.js';
import type { LikelihoodRatio } from '../../statistics/regression/likelihood-ratio.js';
import { type CurvePoint, logisticCurve } from '../../statistics/regression/logistic-curve.js';
import { knotsAt } from '../../statistics/regression/restricted-cubic-spline.js';
import { type DoseGroups, doseGroups } from './dose-groups.js';
import { featureCases, whyNoComparison } from './feature-cases.js';
import type { OutcomeGroups } from './outcome-groups.js';
import { LEAST_EVENTS_PER_VARIABLE, type NoOdds } from './step-odds.js';

/** The chance of an unfavourable outcome over burden, as a curve. */
export interface DoseCurve {
  readonly knots: readonly number[];
  /** With pointwise intervals: each holds by itself, and not for the curve as a whole. */
  readonly points: readonly CurvePoint[];
  /** Against one chance for all. */
  readonly association: LikelihoodRatio;
  /** Against a straight line of log odds. */
  readonly nonLinearity: LikelihoodRatio;
  readonly eventsPerVariable: number;
  readonly hasFewEvents: boolean;
}

/** How outcome goes along with burden. */
export interface DoseResponse {
  readonly key: string;
  readonly known: number;
  readonly byQuantile: DoseGroups | NoOdds;
  readonly curve: DoseCurve | NoOdds;
}

export const DOSE_QUANTILES = 4;
/** Places of the curve. */
const PLACES = 41;
/** Beyond these quantiles too few patients lie to draw a curve; own convention. */
const ENDS = [0.025, 0.975] as const;

/**
 * Neighbouring knots stand at least two of its places apart, 5 % of the values over which the curve is drawn. Nearer ones,
 * as where most patients have hardly any burden, let it jump between values that nobody would tell apart; own convention.
 */
const LEAST_APART = 2 / (PLACES - 1);
const TOO_ALIKE =
  'too many patients have the same value, or nearly the same, to tell the course between them and the others';

/** Whether knots stand far enough apart for a curve that is drawn over so much. */
function areApart(values: Float64Array, count: 3 | 4, drawnOver: number): boolean {
  const knots = knotsAt(values, count);
  return (
    Array.isArray(knots) &&
    knots.every((knot, i) => i === 0 || knot - knots[i - 1] >= LEAST_APART * drawnOver)
  );
}

/** As many knots as the smaller group carries with ten events for each term, and three at least. */
function curveOf(values: Float64Array, events: Uint8Array): DoseCurve | NoOdds {
  const having = events.reduce((sum, event) => sum + event, 0);
  const smaller = Math.min(having, events.length - having);
  const sorted = values.slice().sort();
  const [from, to] = ENDS.map((p) => quantileSorted(sorted, p));
  const at = Array.from({ length: PLACES }, (_, i) => from + ((to - from) * i) / (PLACES - 1));
  const choices = smaller >= 3 * LEAST_EVENTS_PER_VARIABLE ? ([4, 3] as const) : ([3] as const);
  let reason = '';
  for (const knots of choices) {
    if (!areApart(values, knots, to - from)) {
      reason = TOO_ALIKE;
      continue;
    }
    const curve = logisticCurve(values, events, at, { knots });
    if ('reason' in curve) {
      ({ reason } = curve);
      continue;
    }
    const eventsPerVariable = smaller / (curve.knots.length - 1);
    return {
      knots: curve.knots,
      points: curve.points,
      association: curve.association,
      nonLinearity: curve.nonLinearity,
      eventsPerVariable,
      hasFewEvents: eventsPerVariable < LEAST_EVENTS_PER_VARIABLE,
    };
  }
  return { reason };
}

/**
 * Shares of unfavourable outcomes by quantiles of a feature, and the same as a curve that takes no group for granted: logistic
 * regression on a restricted cubic spline of 4 knots, or 3 where the smaller group is under 30 or 4 stand too near to each
 * other; where 3 do too, there is no curve. It looks at the course; no place of it is a limit. Sources: as `wilsonInterval`
 * and `logisticCurve`.
 *
 * @param quantiles how many groups, two or more
 */
export function doseResponse(groups: OutcomeGroups, key: string, quantiles = DOSE_QUANTILES): DoseResponse {
  insist(Number.isInteger(quantiles) && quantiles >= 2, `two groups or more, and got ${quantiles}`);
  const cases = featureCases(groups, key);
  const { values, events } = cases;
  const reason = whyNoComparison(cases);
  if (reason !== null) return { key, known: values.length, byQuantile: { reason }, curve: { reason } };
  return {
    key,
    known: values.length,
    byQuantile: doseGroups(cases, quantiles),
    curve: curveOf(values, events),
  };
}
