import type { Interval } from './interval.js';
import { type Merged, merge, withTimes } from './merged-times.js';
import { interpolate } from './pieces.js';
import type { Signal } from './signal.js';

/** Without the last bits that binary subtraction leaves: 64.1 - 14.1 lies on the edge at 50, not under it. */
const withoutNoise = (value: number): number => Math.round(value * 1e10) / 1e10;

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

/** What is taken off the first of two channels over a stretch of time, from its start on and before its end, ms UTC. */
export interface TakenOff extends Interval {
  /** In the unit of the channel; null where it is not known, and so the difference is not. */
  readonly amount: number | null;
}

/** A change of what is taken off lies between two samples so far apart, so that no piece ramps from one to the other. */
const STEP_MS = 1;

/** On either side of each change a time that lies inside the signal. */
function timesOfChanges({ times }: Signal, taken: readonly TakenOff[]): Float64Array {
  const changes = taken.slice(1).flatMap(({ start }) => [start - STEP_MS, start]);
  const inside = changes.filter((t) => t > times[0] && t < times[times.length - 1]);
  return Float64Array.from(new Set(inside)).sort();
}

/** Takes off each sample what its stretch says; one whose stretch does not know is unknown, with the pieces at it. */
function takeOff({ times, values, known }: Signal, taken: readonly TakenOff[]): void {
  if (taken.length === 0) return;
  let at = 0;
  for (let i = 0; i < times.length; i++) {
    while (times[i] >= taken[at].end) at++;
    const { amount } = taken[at];
    if (amount !== null) values[i] = withoutNoise(values[i] - amount);
    else {
      known[i] = 0;
      if (i > 0) known[i - 1] = 0;
    }
  }
}

/** What two channels differ by, for as many readings of what is known of them as are asked for. */
export class Difference {
  /** a(t) - b(t), known where both are known at the same instant; its values are NaN where one of them has none. */
  readonly signal: Signal;
  private readonly merged: Merged | null;

  /** @param taken what is taken off `a`, stretch by stretch over all time; nothing where it is empty */
  constructor(a: Signal, b: Signal, taken: readonly TakenOff[] = []) {
    const isEmpty = a.times.length === 0 || b.times.length === 0;
    const changes = isEmpty ? new Float64Array(0) : timesOfChanges(a, taken);
    const isPlain = changes.length === 0 && areSame(a.times, b.times);
    this.merged = isPlain ? null : withTimes(merge(a.times, b.times), changes);
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
    takeOff(this.signal, taken);
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
 *
 * @param taken what is taken off `a` as well, stretch by stretch over all time
 */
export const difference = (a: Signal, b: Signal, taken: readonly TakenOff[] = []): Signal =>
  new Difference(a, b, taken).signal;
