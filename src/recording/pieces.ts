import type { Interval } from './interval.js';
import { firstAfter, firstAtOrAfter } from './search.js';
import type { Signal } from './signal.js';

/** Called with the two ends of a known linear piece: times in milliseconds, values in the signal's unit. */
export type PieceVisitor = (t0: number, x0: number, t1: number, x1: number) => void;

/** The value at `t` of the line through two points. */
export const interpolate = (t: number, t0: number, x0: number, t1: number, x1: number): number =>
  x0 + ((x1 - x0) * (t - t0)) / (t1 - t0);

/** Visits in time order every known piece of the signal, cut to the window. */
export function forEachPiece(signal: Signal, window: Interval, visit: PieceVisitor): void {
  const { times, values, known } = signal;
  const { start, end } = window;
  for (let i = Math.max(0, firstAfter(times, start) - 1); i + 1 < times.length && times[i] < end; i++) {
    if (!known[i]) continue;
    const t0 = times[i];
    const t1 = times[i + 1];
    if (t0 >= start && t1 <= end) {
      visit(t0, values[i], t1, values[i + 1]);
      continue;
    }
    const from = Math.max(t0, start);
    const to = Math.min(t1, end);
    if (from >= to) continue;
    visit(
      from,
      interpolate(from, t0, values[i], t1, values[i + 1]),
      to,
      interpolate(to, t0, values[i], t1, values[i + 1]),
    );
  }
}

/** The window that holds the whole signal. */
export const wholeOf = (signal: Signal): Interval =>
  signal.times.length === 0
    ? { start: 0, end: 0 }
    : { start: signal.times[0], end: signal.times[signal.times.length - 1] };

/**
 * The signal inside a window, its outer pieces cut at the window's ends. Measures run over the samples of this rather
 * than call back for each piece, which keeps their sums in registers.
 */
export function cutTo(signal: Signal, window: Interval): Signal {
  const { times, values, known } = signal;
  const { start, end } = window;
  const n = times.length;
  if (n === 0 || (start <= times[0] && end >= times[n - 1])) return signal;
  const first = firstAtOrAfter(times, start);
  const behind = Math.max(first, firstAfter(times, end));
  const cutTimes: number[][] = [[], []];
  const cutValues: number[][] = [[], []];
  const cutAt = (at: number, piece: number, side: 0 | 1): void => {
    if (piece < 0 || piece + 1 >= n || !known[piece] || times[piece] >= at || times[piece + 1] <= at) return;
    cutTimes[side].push(at);
    cutValues[side].push(interpolate(at, times[piece], values[piece], times[piece + 1], values[piece + 1]));
  };
  if (start < end) {
    cutAt(start, first - 1, 0);
    cutAt(end, behind - 1, 1);
  }
  const [before, after] = cutTimes.map((side) => side.length);
  const size = before + (behind - first) + after;
  const cut = {
    times: new Float64Array(size),
    values: new Float64Array(size),
    known: new Uint8Array(size),
  };
  cut.times.set(cutTimes[0]);
  cut.values.set(cutValues[0]);
  cut.known.fill(1, 0, before);
  cut.times.set(times.subarray(first, behind), before);
  cut.values.set(values.subarray(first, behind), before);
  cut.known.set(known.subarray(first, behind), before);
  cut.times.set(cutTimes[1], size - after);
  cut.values.set(cutValues[1], size - after);
  if (size > 0) cut.known[size - 1] = 0;
  return cut;
}
