import type { Interval } from '../recording/interval.js';
import { forEachPiece } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

/** Integral of x over the known part of the window, divided by its length; NaN where nothing is known. */
export function timeWeightedMean(signal: Signal, window: Interval): number {
  let area = 0;
  let length = 0;
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    area += ((x0 + x1) / 2) * (t1 - t0);
    length += t1 - t0;
  });
  return area / length;
}

/** Highest and lowest value of x on the known part of the window; NaN where nothing is known. */
export function extremes(signal: Signal, window: Interval): { highest: number; lowest: number } {
  let highest = Number.NEGATIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  forEachPiece(signal, window, (_t0, x0, _t1, x1) => {
    highest = Math.max(highest, x0, x1);
    lowest = Math.min(lowest, x0, x1);
  });
  return highest < lowest ? { highest: Number.NaN, lowest: Number.NaN } : { highest, lowest };
}
