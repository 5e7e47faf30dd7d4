import { interpolate } from './pieces.js';
import type { Signal } from './signal.js';

/** Without the last bits that binary subtraction leaves: 64.1 - 14.1 lies on the edge at 50, not under it. */
const withoutNoise = (value: number): number => Math.round(value * 1e10) / 1e10;

/** All times of two sorted lists, once each, with the piece of either signal that begins at or before each of them. */
interface Merged {
  readonly times: Float64Array;
  readonly pieceOfA: Uint32Array;
  readonly pieceOfB: Uint32Array;
}

/** How many different times two sorted lists hold together. */
function countTogether(a: Float64Array, b: Float64Array): number {
  let [n, i, j] = [0, 0, 0];
  while (i < a.length && j < b.length) {
    const [x, y] = [a[i], b[j]];
    if (x <= y) i++;
    if (y <= x) j++;
    n++;
  }
  return n + (a.length - i) + (b.length - j);
}

/** The piece of the last sample, which is never known, stands for the time before the first. */
function merge(a: Float64Array, b: Float64Array): Merged {
  // Counted first: arrays that might be twice as long would stay as long as the difference does.
  const times = new Float64Array(countTogether(a, b));
  const pieceOfA = new Uint32Array(times.length);
  const pieceOfB = new Uint32Array(times.length);
  let [i, j] = [0, 0];
  for (let n = 0; n < times.length; n++) {
    const t = j >= b.length || (i < a.length && a[i] <= b[j]) ? a[i] : b[j];
    if (a[i] === t) i++;
    if (b[j] === t) j++;
    times[n] = t;
    pieceOfA[n] = (i === 0 ? a.length : i) - 1;
    pieceOfB[n] = (j === 0 ? b.length : j) - 1;
  }
  return { times, pieceOfA, pieceOfB };
}

function areSame(a: Float64Array, b: Float64Array): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i]) return false;
  return true;
}

/** Value of a signal at `t` inside the piece that begins at or before it; NaN where x is not known there. */
function valueAt({ times, values, known }: Signal, piece: number, t: number): number {
  if (times[piece] === t) return values[piece];
  return known[piece] === 0
    ? Number.NaN
    : interpolate(t, times[piece], values[piece], times[piece + 1], values[piece + 1]);
}

/** What two channels differ by, for as many readings of what is known of them as are asked for. */
export class Difference {
  /** a(t) - b(t), known where both are known at the same instant; its values are NaN where one of them has none. */
  readonly signal: Signal;
  private readonly merged: Merged | null;

  constructor(a: Signal, b: Signal) {
    const isEmpty = a.times.length === 0 || b.times.length === 0;
    this.merged = areSame(a.times, b.times) ? null : merge(a.times, b.times);
    const times = this.merged?.times ?? a.times;
    const values = new Float64Array(times.length);
    if (this.merged === null) {
      for (let i = 0; i < values.length; i++) values[i] = withoutNoise(a.values[i] - b.values[i]);
    } else if (!isEmpty) {
      const { pieceOfA, pieceOfB } = this.merged;
      for (let i = 0; i < values.length; i++) {
        const t = times[i];
        values[i] = withoutNoise(valueAt(a, pieceOfA[i], t) - valueAt(b, pieceOfB[i], t));
      }
    }
    const known = new Uint8Array(times.length);
    this.signal = { times, values, known };
    if (isEmpty) return;
    known.fill(1, 0, -1);
    this.fillKnown(a, b, known, 0, times.length);
  }

  /** The difference where less is known of the same samples, as after cleaning; what was not known stays so. */
  where(a: Signal, b: Signal): Signal {
    return { ...this.signal, known: this.known(a, b) };
  }

  /** Puts into `known` which pieces from sample `first` to sample `last` are known in both; the others stay as they are. */
  fillKnown(
    { known: ofA }: Signal,
    { known: ofB }: Signal,
    known: Uint8Array,
    first: number,
    last: number,
  ): void {
    if (ofA.length === 0 || ofB.length === 0) return;
    const end = Math.min(last, known.length - 1);
    const { known: atFirst } = this.signal;
    if (this.merged === null) {
      for (let i = first; i < end; i++) known[i] = atFirst[i] & ofA[i] & ofB[i];
      return;
    }
    const { pieceOfA, pieceOfB } = this.merged;
    for (let i = first; i < end; i++) known[i] = atFirst[i] & ofA[pieceOfA[i]] & ofB[pieceOfB[i]];
  }

  private known(a: Signal, b: Signal): Uint8Array {
    const both = new Uint8Array(this.signal.times.length);
    this.fillKnown(a, b, both, 0, both.length);
    return both;
  }
}

/**
 * The signal a(t) - b(t), known where both are known at the same instant. Between neighbouring samples of
 * either, both are linear, so the difference is exact.
 */
export const difference = (a: Signal, b: Signal): Signal => new Difference(a, b).signal;
