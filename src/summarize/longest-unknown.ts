import { type Interval, lengthMs, subtract } from '../recording/interval.js';
import { knownIntervals, type Signal } from '../recording/signal.js';

/** The longest stretch of a period over which a signal is not known, the first of equals; null where it is known throughout. */
export function longestUnknown(signal: Signal, period: Interval): Interval | null {
  const unknown = subtract([period], knownIntervals(signal)).filter((stretch) => lengthMs(stretch) > 0);
  return unknown.length === 0 ? null : unknown.reduce((a, b) => (lengthMs(b) > lengthMs(a) ? b : a));
}
