import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';

/** The samples from one time to another, both included; a view, not a copy. */
export const samplesOver = ({ times, values }: Signal, from: number, to: number): Float64Array =>
  values.subarray(firstAtOrAfter(times, from), firstAfter(times, to));

/** The median of the samples from one time to another, both included; NaN where there are none. */
export function medianOver(signal: Signal, from: number, to: number): number {
  const inside = samplesOver(signal, from, to);
  return inside.length === 0 ? Number.NaN : median(inside);
}
