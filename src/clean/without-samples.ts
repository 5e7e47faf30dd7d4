import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';

/** The signal as if the samples in the (closed) intervals had never been there, for levels beside them; the same one where there is nothing to leave out. */
export function withoutSamples(signal: Signal, intervals: readonly Interval[]): Signal {
  if (intervals.length === 0) return signal;
  const isKept = (_: number, i: number): boolean =>
    !intervals.some(({ start, end }) => start <= signal.times[i] && signal.times[i] <= end);
  return {
    times: signal.times.filter(isKept),
    values: signal.values.filter(isKept),
    known: signal.known.filter(isKept),
  };
}
