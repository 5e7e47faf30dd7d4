import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import type { MonitoredHour } from './patient-audit.js';

/** How long a signal is known in each of some windows, milliseconds; the signal is gone through once. */
function knownIn({ times, known }: Signal, windowsSorted: readonly Interval[]): Float64Array {
  const sums = new Float64Array(windowsSorted.length);
  let at = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (known[i] === 0) continue;
    const end = times[i + 1];
    while (at < windowsSorted.length && windowsSorted[at].end <= times[i]) at++;
    for (let k = at; k < windowsSorted.length && windowsSorted[k].start < end; k++) {
      const { start, end: last } = windowsSorted[k];
      sums[k] += Math.min(end, last) - Math.max(times[i], start);
    }
  }
  return sums;
}

/**
 * How long two pressures were monitored, hour by hour.
 *
 * @param hours one behind the other
 */
export function hoursMonitored(icp: Signal, cpp: Signal, hours: readonly Interval[]): MonitoredHour[] {
  const [ofIcp, ofCpp] = [knownIn(icp, hours), knownIn(cpp, hours)];
  return hours.map(({ start, end }, i) => ({ start, end, icpMs: ofIcp[i], cppMs: ofCpp[i] }));
}
