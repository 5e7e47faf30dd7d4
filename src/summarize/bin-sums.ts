import type { Signal } from '../recording/signal.js';

/** Area under x (value x milliseconds) and known milliseconds in bins on UTC multiples of their length. */
export interface BinSums {
  /** Bin k of the lists is the one from (firstBin + k) x length on, milliseconds UTC. */
  readonly firstBin: number;
  readonly area: Float64Array;
  readonly known: Float64Array;
}

/**
 * Sums over every bin that the samples from `first` to `last` reach, in one pass.
 *
 * @param longestMs longer pieces count as unknown: a bin inside one would be a point of its line and no measurement
 */
export function binSums(
  { times, values, known }: Signal,
  binMs: number,
  first = 0,
  last = times.length - 1,
  longestMs = Number.POSITIVE_INFINITY,
): BinSums {
  const firstBin = last < first ? 0 : Math.floor(times[first] / binMs);
  const count = last < first ? 0 : Math.floor(times[last] / binMs) + 1 - firstBin;
  const areas = new Float64Array(count);
  const knownMs = new Float64Array(count);
  let bin = firstBin;
  let end = (bin + 1) * binMs;
  for (let i = first; i < last; i++) {
    if (known[i] === 0) continue;
    const t0 = times[i];
    const t1 = times[i + 1];
    if (t1 - t0 > longestMs) continue;
    if (t0 >= end) {
      bin = Math.floor(t0 / binMs);
      end = (bin + 1) * binMs;
    }
    if (t1 <= end) {
      areas[bin - firstBin] += ((values[i] + values[i + 1]) / 2) * (t1 - t0);
      knownMs[bin - firstBin] += t1 - t0;
      continue;
    }
    const x0 = values[i];
    const slope = (values[i + 1] - x0) / (t1 - t0);
    let from = t0;
    while (t1 > end) {
      areas[bin - firstBin] += (x0 + slope * ((from + end) / 2 - t0)) * (end - from);
      knownMs[bin - firstBin] += end - from;
      from = end;
      bin++;
      end += binMs;
    }
    areas[bin - firstBin] += (x0 + slope * ((from + t1) / 2 - t0)) * (t1 - from);
    knownMs[bin - firstBin] += t1 - from;
  }
  return { firstBin, area: areas, known: knownMs };
}
