import type { Interval } from '../recording/interval.js';
import { forEachPiece } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

const MINUTE_MS = 60_000;
/** Length of the windows whose means are called highest and lowest in reports. */
export const HIGHLIGHT_MINUTES = 5;

/** A mean over a window of fixed length. */
export interface WindowMean {
  /** Start of the window, milliseconds UTC. */
  readonly start: number;
  readonly mean: number;
}

/** Area under x (value x milliseconds) and known milliseconds in each whole UTC minute of the window. */
function minuteSums(
  signal: Signal,
  window: Interval,
): { firstMinute: number; area: Float64Array; known: Float64Array } {
  const firstMinute = Math.floor(window.start / MINUTE_MS);
  const count = Math.max(0, Math.ceil(window.end / MINUTE_MS) - firstMinute);
  const area = new Float64Array(count);
  const known = new Float64Array(count);
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    for (let from = t0; from < t1; ) {
      const minute = Math.floor(from / MINUTE_MS);
      const to = Math.min(t1, (minute + 1) * MINUTE_MS);
      const middle = x0 + ((x1 - x0) * ((from + to) / 2 - t0)) / (t1 - t0);
      area[minute - firstMinute] += middle * (to - from);
      known[minute - firstMinute] += to - from;
      from = to;
    }
  });
  return { firstMinute, area, known };
}

/**
 * Means over windows of `minutes` that start on each whole UTC minute and lie inside `window`; windows that are known
 * for less than half are left out. The starts do not depend on the samples, so that adding samples on the lines
 * changes nothing.
 */
export function windowMeans(signal: Signal, window: Interval, minutes = HIGHLIGHT_MINUTES): WindowMean[] {
  const { firstMinute, area, known } = minuteSums(signal, window);
  const means: WindowMean[] = [];
  for (let m = 0; m + minutes <= area.length; m++) {
    const start = (firstMinute + m) * MINUTE_MS;
    if (start < window.start || start + minutes * MINUTE_MS > window.end) continue;
    let sum = 0;
    let ms = 0;
    for (let k = m; k < m + minutes; k++) {
      sum += area[k];
      ms += known[k];
    }
    if (ms >= (minutes * MINUTE_MS) / 2) means.push({ start, mean: sum / ms });
  }
  return means;
}
