import { type ControlPoint, judged, LIMIT_SIGMAS, unjudged } from './control-chart.js';
import { insist } from './estimate.js';
import { movingRangeSigma } from './moving-range.js';

/** What limits rest on; both in the unit of the values. */
export interface IndividualsBaseline {
  readonly centreLine: number;
  /** The mean moving range divided by 1.128. */
  readonly sigma: number;
}

export interface IndividualsChart {
  /** Of these values or carried over; to be carried over. Null where a reason stands. */
  readonly baseline: IndividualsBaseline | null;
  readonly reason: string | null;
  readonly points: readonly ControlPoint[];
}

/**
 * Chart of single values, with limits at their mean +- 3/1.128 times the mean moving range. Source: NIST/SEMATECH
 * e-Handbook of Statistical Methods 6.3.2.2.
 *
 * @param values in order of time, finite
 * @param baseline of an earlier chart, whose limits are carried over
 * @returns a reason and no limits where there are fewer than two values and no baseline
 */
export function individualsChart(
  values: readonly number[],
  baseline: IndividualsBaseline | null = null,
): IndividualsChart {
  insist(values.every(Number.isFinite), 'finite values');
  const own = baseline ?? ownBaseline(values);
  if (own === null) {
    const reason = `limits need two points, and there are ${values.length}`;
    return { baseline: null, reason, points: values.map((value) => unjudged(value, reason)) };
  }
  const reach = LIMIT_SIGMAS * own.sigma;
  return {
    baseline: own,
    reason: null,
    points: values.map((value) => judged(value, own.centreLine - reach, own.centreLine + reach)),
  };
}

function ownBaseline(values: readonly number[]): IndividualsBaseline | null {
  if (values.length < 2) return null;
  const centreLine = values.reduce((sum, x) => sum + x, 0) / values.length;
  return { centreLine, sigma: movingRangeSigma(values) };
}
