import type { Interval } from './interval.js';
import { firstAfter, firstAtOrAfter } from './search.js';
import type { Signal } from './signal.js';

/** The value at `t` of the line through two points. */
export const interpolate = (t: number, t0: number, x0: number, t1: number, x1: number): number =>
  x0 + ((x1 - x0) * (t - t0)) / (t1 - t0);

/** The window that holds the whole signal. */
export const wholeOf = (signal: Signal): Interval =>
  signal.times.length === 0
    ? { start: 0, end: 0 }
    : { start: signal.times[0], end: signal.times[signal.times.length - 1] };

/** A known piece, or what a window's edge leaves of one. */
export interface CutPiece {
  readonly t0: number;
  readonly x0: number;
  readonly t1: number;
  readonly x1: number;
}

/** The pieces of a signal inside a window. */
export interface WindowPieces {
  /** Pieces from sample `first` to sample `last` lie inside as wholes, whether known or not; `last` may be smaller. */
  readonly first: number;
  readonly last: number;
  /** What the window's edges cut off known pieces: at most one at each end. */
  readonly cut: readonly CutPiece[];
}

/** Where a window begins and ends in a signal, so that measures can run over the samples without copying them. */
export function piecesWithin({ times, values, known }: Signal, { start, end }: Interval): WindowPieces {
  const first = firstAtOrAfter(times, start);
  const last = firstAfter(times, end) - 1;
  const cut: CutPiece[] = [];
  const cutOff = (i: number, t0: number, t1: number): void => {
    if (i < 0 || i + 1 >= times.length || !known[i] || t0 >= t1) return;
    const at = (t: number): number => interpolate(t, times[i], values[i], times[i + 1], values[i + 1]);
    const [x0, x1] = [t0 === times[i] ? values[i] : at(t0), t1 === times[i + 1] ? values[i + 1] : at(t1)];
    cut.push({ t0, x0, t1, x1 });
  };
  if (first > last) cutOff(last, start, end);
  else {
    cutOff(first - 1, start, times[first]);
    cutOff(last, times[last], end);
  }
  return { first, last, cut };
}

/** What a window leaves of a signal, with samples on its lines at the window's edges; all of it is the signal itself. */
export function cutTo(signal: Signal, window: Interval): Signal {
  const { times, values, known } = signal;
  const { first, last, cut } = piecesWithin(signal, window);
  if (first === 0 && last === times.length - 1) return signal;
  if (first > last) {
    const ends = cut.flatMap(({ t0, x0, t1, x1 }) => [
      { t: t0, x: x0, known: 1 },
      { t: t1, x: x1, known: 0 },
    ]);
    return {
      times: Float64Array.from(ends, ({ t }) => t),
      values: Float64Array.from(ends, ({ x }) => x),
      known: Uint8Array.from(ends, (end) => end.known),
    };
  }
  const before = cut.find(({ t0 }) => t0 < times[first]);
  const behind = cut.find(({ t0 }) => t0 >= times[first]);
  const at = before ? 1 : 0;
  const length = at + (last - first + 1) + (behind ? 1 : 0);
  const inside: Signal = {
    times: new Float64Array(length),
    values: new Float64Array(length),
    known: new Uint8Array(length),
  };
  inside.times.set(times.subarray(first, last + 1), at);
  inside.values.set(values.subarray(first, last + 1), at);
  inside.known.set(known.subarray(first, last), at);
  if (before) {
    inside.times[0] = before.t0;
    inside.values[0] = before.x0;
    inside.known[0] = 1;
  }
  if (behind) {
    inside.times[length - 1] = behind.t1;
    inside.values[length - 1] = behind.x1;
    inside.known[length - 2] = 1;
  }
  return inside;
}
