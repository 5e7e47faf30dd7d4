import type { BinGrid } from './bin-grid.js';
import { MINUTE_MS, type MinuteCourse } from './minute-course.js';
import { movingMoments } from './moving-moments.js';
import type { PairMoments } from './pair-moments.js';

/** A window of pairs of which at least so many have to be there. */
export interface MovingWindow {
  readonly pairs: number;
  readonly leastPairs: number;
}

/** What the pairs of a moving window give, at the end of each UTC minute; NaN where too few are known. */
function atMinutes(
  x: Float64Array,
  y: Float64Array,
  { binMs, firstBin, count }: BinGrid,
  { pairs, leastPairs }: MovingWindow,
  pick: (moments: PairMoments) => number,
): MinuteCourse {
  const perMinute = MINUTE_MS / binMs;
  // The first minute that ends behind the start of the first bin.
  const first = Math.floor(firstBin / perMinute) + 1;
  const minutes = Math.max(0, Math.floor((firstBin + count) / perMinute) - first + 1);
  const values = new Float64Array(minutes).fill(Number.NaN);
  movingMoments(x, y, pairs, (end, moments) => {
    const bin = firstBin + end;
    if (bin % perMinute === 0 && moments.count >= leastPairs) {
      values[bin / perMinute - first] = pick(moments);
    }
  });
  return { firstEnd: first * MINUTE_MS, values };
}

/**
 * Pearson correlation of two lists of bin means over a moving window, a value at the end of each UTC minute; NaN where too
 * few pairs are known, or one list is constant.
 *
 * @param grid of both lists; a minute is a multiple of its bins
 */
export const movingCorrelation = (
  x: Float64Array,
  y: Float64Array,
  grid: BinGrid,
  window: MovingWindow,
): MinuteCourse => atMinutes(x, y, grid, window, (moments) => moments.correlation);

/** Mean of a list of bin means over a moving window, a value at the end of each UTC minute. */
export const movingMean = (values: Float64Array, grid: BinGrid, window: MovingWindow): MinuteCourse =>
  atMinutes(values, values, grid, window, (moments) => moments.meanX);
