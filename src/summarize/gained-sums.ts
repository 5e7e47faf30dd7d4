import { type Interval, unite } from '../recording/interval.js';
import { piecesWithin } from '../recording/pieces.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { PieceSums } from './piece-sums.js';

/** Puts into `known` which pieces from sample `first` to sample `last` are known. */
export type FillKnown = (known: Uint8Array, first: number, last: number) => void;

/** The pieces that touch a sample inside the intervals, as runs from one sample to another, none twice. */
function piecesTouching(
  times: Float64Array,
  intervals: readonly Interval[],
): [first: number, last: number][] {
  const runs: [number, number][] = [];
  let behind = 0;
  for (const { start, end } of unite(intervals)) {
    const first = Math.max(behind, firstAtOrAfter(times, start) - 1);
    const last = Math.min(times.length - 1, firstAfter(times, end));
    if (first >= last) continue;
    runs.push([first, last]);
    behind = last;
  }
  return runs;
}

/**
 * Sums over the pieces that would be known without the marks of some intervals, and are not known with them. Only what
 * touches the intervals is gone through.
 *
 * @param signal with the marks
 * @param fill tells what is known without them
 */
export function gainedSums(
  signal: Signal,
  fill: FillKnown,
  intervals: readonly Interval[],
  window: Interval,
  levels: readonly number[],
): PieceSums {
  const { times } = signal;
  const known = new Uint8Array(times.length);
  const gained: Signal = { ...signal, known };
  const sums = new PieceSums(levels);
  for (const [first, last] of piecesTouching(times, intervals)) {
    fill(known, first, last);
    for (let i = first; i < last; i++) known[i] &= 1 - signal.known[i];
    const start = Math.max(window.start, times[first]);
    const end = Math.min(window.end, times[last]);
    if (start >= end) continue;
    const inside = piecesWithin(gained, { start, end });
    sums.addPieces(gained, inside.first, inside.last);
    for (const { t0, x0, t1, x1 } of inside.cut) sums.addPiece(x0, x1, t1 - t0);
  }
  return sums;
}
