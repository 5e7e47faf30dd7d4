import type { Interval } from './interval.js';
import { firstAfter } from './search.js';
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
