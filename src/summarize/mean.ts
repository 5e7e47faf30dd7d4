import type { Interval } from '../recording/interval.js';
import { cutTo } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

/** Integral of x over the known part of the window, divided by its length; NaN where nothing is known. */
export function timeWeightedMean(signal: Signal, window: Interval): number {
  const { times, values, known } = cutTo(signal, window);
  let area = 0;
  let length = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (!known[i]) continue;
    const width = times[i + 1] - times[i];
    area += ((values[i] + values[i + 1]) / 2) * width;
    length += width;
  }
  return area / length;
}

/** Highest and lowest value of x on the known part of the window; NaN where nothing is known. */
export function extremes(signal: Signal, window: Interval): { highest: number; lowest: number } {
  const { values, known } = cutTo(signal, window);
  let highest = Number.NEGATIVE_INFINITY;
  let lowest = Number.POSITIVE_INFINITY;
  for (let i = 0; i + 1 < values.length; i++) {
    if (!known[i]) continue;
    highest = Math.max(highest, values[i], values[i + 1]);
    lowest = Math.min(lowest, values[i], values[i + 1]);
  }
  return highest < lowest ? { highest: Number.NaN, lowest: Number.NaN } : { highest, lowest };
}
