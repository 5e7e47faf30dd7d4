import type { Interval } from '../../recording/interval.js';
import { interpolate } from '../../recording/pieces.js';
import { firstAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { HOUR_MS } from '../hour.js';

/** Area of the line from x0 to x1 above 0, value x ms. */
function areaAbove(x0: number, x1: number, widthMs: number): number {
  if (x0 <= 0 && x1 <= 0) return 0;
  if (x0 >= 0 && x1 >= 0) return ((x0 + x1) / 2) * widthMs;
  const top = Math.max(x0, x1);
  return ((top * top) / (2 * Math.abs(x1 - x0))) * widthMs;
}

/**
 * Dose above a threshold from the start of a window to any instant in it, mmHg.h for a signal in mmHg: sums are kept at
 * each sample, so that asking costs a search and no pass.
 */
export function doseFrom(signal: Signal, window: Interval, threshold: number): (at: number) => number {
  const { times, values, known } = signal;
  const first = Math.max(0, firstAfter(times, window.start) - 1);
  const last = Math.max(first, Math.min(times.length, firstAfter(times, window.end) + 1));
  const areaOf = (i: number, from: number, to: number): number => {
    if (known[i] !== 1 || to <= from) return 0;
    const x = (t: number): number =>
      t === times[i]
        ? values[i]
        : t === times[i + 1]
          ? values[i + 1]
          : interpolate(t, times[i], values[i], times[i + 1], values[i + 1]);
    return areaAbove(x(from) - threshold, x(to) - threshold, to - from);
  };
  /** At sample `first + k`. */
  const sums = new Float64Array(Math.max(1, last - first));
  for (let k = 1; k < sums.length; k++) {
    const i = first + k - 1;
    sums[k] = sums[k - 1] + areaOf(i, Math.max(times[i], window.start), times[i + 1]);
  }
  return (at) => {
    const until = Math.min(at, window.end);
    const i = Math.max(first, firstAfter(times, until) - 1);
    if (until <= window.start || times.length === 0) return 0;
    return (sums[i - first] + areaOf(i, Math.max(times[i], window.start), until)) / HOUR_MS;
  };
}
