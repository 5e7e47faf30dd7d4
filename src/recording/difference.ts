import { interpolate } from './pieces.js';
import type { Signal } from './signal.js';

/** Walks one signal forward in time and gives its value there. */
class Cursor {
  private i = 0;
  constructor(private readonly signal: Signal) {}

  /** Value at `t`, at a sample or on a known piece; NaN elsewhere. Times must not decrease. */
  valueAt(t: number): number {
    const { times, values, known } = this.signal;
    while (this.i + 1 < times.length && times[this.i + 1] <= t) this.i++;
    const i = this.i;
    if (times[i] === t) return values[i];
    if (!(times[i] < t) || !known[i]) return Number.NaN;
    return interpolate(t, times[i], values[i], times[i + 1], values[i + 1]);
  }

  /** True where x is known just after `t`, the last time asked for. */
  knownAfter(t: number): boolean {
    return this.signal.times[this.i] <= t && this.signal.known[this.i] === 1;
  }
}

/** Without the last bits that binary subtraction leaves: 64.1 - 14.1 lies on the edge at 50, not under it. */
const withoutNoise = (value: number): number => Math.round(value * 1e10) / 1e10;

/** All times of two sorted lists, once each, sorted. */
function mergedTimes(a: Float64Array, b: Float64Array): Float64Array {
  const merged = new Float64Array(a.length + b.length);
  let n = 0;
  for (let i = 0, j = 0; i < a.length || j < b.length; ) {
    const next = j >= b.length || (i < a.length && a[i] <= b[j]) ? a[i] : b[j];
    if (a[i] === next) i++;
    if (b[j] === next) j++;
    merged[n++] = next;
  }
  return merged.subarray(0, n);
}

/**
 * The signal a(t) - b(t), known where both are known at the same instant. Between neighbouring samples of
 * either, both are linear, so the difference is exact.
 */
export function difference(a: Signal, b: Signal): Signal {
  const times = mergedTimes(a.times, b.times);
  const values = new Float64Array(times.length);
  const known = new Uint8Array(times.length);
  if (a.times.length === 0 || b.times.length === 0) return { times, values, known };
  const cursorA = new Cursor(a);
  const cursorB = new Cursor(b);
  for (let i = 0; i < times.length; i++) {
    const t = times[i];
    values[i] = withoutNoise(cursorA.valueAt(t) - cursorB.valueAt(t));
    known[i] = i + 1 < times.length && cursorA.knownAfter(t) && cursorB.knownAfter(t) ? 1 : 0;
  }
  return { times, values, known };
}
