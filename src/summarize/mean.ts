import type { Interval } from '../recording/interval.js';
import { piecesWithin } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';
import { sumsOver } from './piece-sums.js';

/** Integral of x over the known part of the window, divided by its length; NaN where nothing is known. */
export const timeWeightedMean = (signal: Signal, window: Interval): number =>
  sumsOver(signal, window, []).mean;

/** Highest and lowest value of x on the known part of the window; NaN where nothing is known. */
export function extremes(signal: Signal, window: Interval): { highest: number; lowest: number } {
  const { values, known } = signal;
  const { first, last, cut } = piecesWithin(signal, window);
  let highest = Number.NEGATIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = first; i < last; i++) {
    if (!known[i]) continue;
    highest = Math.max(highest, values[i], values[i + 1]);
    lowest = Math.min(lowest, values[i], values[i + 1]);
  }
  for (const { x0, x1 } of cut) {
    highest = Math.max(highest, x0, x1);
    lowest = Math.min(lowest, x0, x1);
  }
  return highest < lowest ? { highest: Number.NaN, lowest: Number.NaN } : { highest, lowest };
}
