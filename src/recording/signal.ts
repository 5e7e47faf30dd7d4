import { type Interval, unite } from './interval.js';
import { firstAtOrAfter } from './search.js';

/**
 * A channel as the one function x(t) on which every measure is computed: linear between neighbouring
 * samples where the piece between them is known, and unknown elsewhere.
 */
export interface Signal {
  /** Sample times, milliseconds since 1970-01-01 UTC, strictly increasing. */
  readonly times: Float64Array;
  /** Sample values in the channel's unit, finite, one for each time. */
  readonly values: Float64Array;
  /** `known[i]` is 1 where x is known from sample i to sample i + 1; the last entry is always 0. */
  readonly known: Uint8Array;
}

/** The signal of no samples. */
export const emptySignal: Signal = {
  times: new Float64Array(0),
  values: new Float64Array(0),
  known: new Uint8Array(0),
};

/**
 * The same signal with the samples inside the (closed) intervals marked. A piece that touches a marked
 * sample is unknown, so that removing one sample opens a hole and is never drawn over.
 */
export function withoutIntervals(signal: Signal, intervals: readonly Interval[]): Signal {
  const known = signal.known.slice();
  for (const { start, end } of unite(intervals)) {
    const first = firstAtOrAfter(signal.times, start);
    for (let i = first; i < signal.times.length && signal.times[i] <= end; i++) {
      known[i] = 0;
      if (i > 0) known[i - 1] = 0;
    }
  }
  return { ...signal, known };
}

/** The maximal stretches over which x is known, in time order. */
export function knownIntervals(signal: Signal): Interval[] {
  const { times, known } = signal;
  const stretches: Interval[] = [];
  for (let i = 0; i < known.length; i++) {
    if (!known[i]) continue;
    const start = times[i];
    while (known[i]) i++;
    stretches.push({ start, end: times[i] });
  }
  return stretches;
}
