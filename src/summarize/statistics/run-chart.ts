import { median } from '../../recording/rolling-median.js';
import type { Figure } from '../figure.js';
import { insist } from './estimate.js';
import { fewestCrossings, mostInRun } from './run-chart-limits.js';

/** With fewer points off the centre line nothing can be told. */
export const LEAST_USEFUL = 12;

/** The longest row of points on one side of the centre line; points on the line neither count nor end it. */
export interface LongestRun {
  readonly points: number;
  /** Indices of its first and last point in the values. */
  readonly first: number;
  readonly last: number;
}

/** What a run chart tells; the signals are null where a reason stands. */
export interface RunChart {
  /** In the unit of the values. */
  readonly centreLine: Figure;
  /** Points that are not on the centre line. */
  readonly useful: number;
  /** The first of the longest; null where no point is off the line. */
  readonly longestRun: LongestRun | null;
  readonly crossings: number;
  /** A longer run is a signal. */
  readonly mostInRun: number | null;
  /** Fewer crossings are a signal. */
  readonly fewestCrossings: number | null;
  readonly hasLongRun: boolean | null;
  readonly hasFewCrossings: boolean | null;
  readonly reason: string | null;
}

/**
 * Signals of a run chart, that values over time do more than vary by chance around their median: a run longer than
 * round(log2 n) + 3, or fewer crossings of the line than the 5 % quantile of the binomial distribution of n - 1 chances of
 * one half, n being the points off the line. Source: Anhoj & Olesen, PLoS ONE 2014;9:e113825.
 *
 * A stable process has fewer crossings in under 5 % of charts, and one signal or the other in 4 to 11 % (12 to 120 points
 * around a line that is known; all rows of points counted), in 1 to 4 % around its own median. A median that was carried
 * over from few points is off itself: one from 12 points makes 10 to 15 % of stable charts signal. A shift of two standard
 * deviations in the second half of 24 points is found in 6 of 10 charts around their own median, and in 19 of 20 around
 * the median of the first half (simulated, in the tests).
 *
 * @param values in order of time, finite
 * @param centreLine carried over from a baseline, as its median; else the median of the values
 * @returns a reason and no signals where fewer than 12 points are off the line
 */
export function runChartSignals(values: readonly number[], centreLine?: number): RunChart {
  insist(values.every(Number.isFinite), 'finite values');
  const empty = { reason: 'there are no points' };
  const line = centreLine ?? (values.length === 0 ? empty : median(values));
  const { useful, longestRun, crossings } = runsOf(values, typeof line === 'number' ? line : Number.NaN);
  const found = { centreLine: line, useful, longestRun, crossings };
  if (useful < LEAST_USEFUL) {
    return {
      ...found,
      mostInRun: null,
      fewestCrossings: null,
      hasLongRun: null,
      hasFewCrossings: null,
      reason: `${useful} points are off the centre line, and ${LEAST_USEFUL} are needed to tell`,
    };
  }
  const [most, fewest] = [mostInRun(useful), fewestCrossings(useful)];
  return {
    ...found,
    mostInRun: most,
    fewestCrossings: fewest,
    hasLongRun: longestRun !== null && longestRun.points > most,
    hasFewCrossings: crossings < fewest,
    reason: null,
  };
}

function runsOf(
  values: readonly number[],
  line: number,
): Pick<RunChart, 'useful' | 'longestRun' | 'crossings'> {
  let useful = 0;
  let crossings = 0;
  let longestRun: LongestRun | null = null;
  let run: LongestRun | null = null;
  let side = 0;
  values.forEach((value, i) => {
    if (value === line) return;
    const own = value > line ? 1 : -1;
    if (run !== null && own !== side) crossings++;
    run =
      run === null || own !== side
        ? { points: 1, first: i, last: i }
        : { ...run, points: run.points + 1, last: i };
    side = own;
    useful++;
    if (longestRun === null || run.points > longestRun.points) longestRun = run;
  });
  return { useful, longestRun, crossings };
}
