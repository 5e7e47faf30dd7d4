import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';
import { type BinSums, binSums } from './bin-sums.js';

const MINUTE_MS = 60_000;
/** Length of the windows whose means are called highest and lowest in reports. */
export const HIGHLIGHT_MINUTES = 5;

/** A mean over a window of fixed length. */
export interface WindowMean {
  /** Start of the window, milliseconds UTC. */
  readonly start: number;
  readonly mean: number;
}

const remembered = new WeakMap<Signal, BinSums>();

/** The sums of a signal, computed once however many windows are asked for. */
function minuteSumsOf(signal: Signal): BinSums {
  const sums = remembered.get(signal) ?? binSums(signal, MINUTE_MS);
  remembered.set(signal, sums);
  return sums;
}

/**
 * Means over windows of `minutes` that start on each whole UTC minute and lie inside `window`; windows that are known
 * for less than half are left out. The starts do not depend on the samples, so that adding samples on the lines
 * changes nothing.
 */
export function windowMeans(signal: Signal, window: Interval, minutes = HIGHLIGHT_MINUTES): WindowMean[] {
  const { firstBin: firstMinute, area, known } = minuteSumsOf(signal);
  const means: WindowMean[] = [];
  // Whole minutes of the window, also where they reach over the ends of the signal.
  const first = Math.ceil(window.start / MINUTE_MS) - firstMinute;
  const behind = Math.floor(window.end / MINUTE_MS) - firstMinute;
  for (
    let m = Math.max(first, 1 - minutes);
    m + minutes <= Math.min(behind, area.length + minutes - 1);
    m++
  ) {
    const start = (firstMinute + m) * MINUTE_MS;
    let sum = 0;
    let ms = 0;
    for (let k = Math.max(0, m); k < Math.min(m + minutes, area.length); k++) {
      sum += area[k];
      ms += known[k];
    }
    if (ms >= (minutes * MINUTE_MS) / 2) means.push({ start, mean: sum / ms });
  }
  return means;
}
