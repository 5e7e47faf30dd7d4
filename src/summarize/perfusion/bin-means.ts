import { intervalsAt, rateChanges } from '../../recording/sampling.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { binSums } from '../bin-sums.js';
import { whyNoWindow } from '../resolvable.js';
import type { BinGrid } from './bin-grid.js';
import { samplesByBin } from './samples-by-bin.js';

/** An interval this near to the length of a bin is that length. */
const SAME_LENGTH = 0.05;

const isOnce = (intervalMs: number, binMs: number): boolean =>
  Math.abs(intervalMs - binMs) <= SAME_LENGTH * binMs;

/** Why means over bins cannot be taken of a channel: it needs a sample for each. Null where they can. */
export const whyNoBins = (intervalMs: number, binMs: number): string | null =>
  isOnce(intervalMs, binMs) ? null : whyNoWindow(intervalMs, binMs);

/**
 * Means of a channel over bins; NaN where a bin is known for less than half. Where the channel comes once a bin it is taken
 * as it comes: the sample itself, where it belongs to a known piece. A bin inside a piece that is longer than a bin is
 * unknown, also where the channel is finer elsewhere.
 *
 * @param intervalMs the channel's nominal interval
 */
export function binMeans(signal: Signal, intervalMs: number, grid: BinGrid): Float64Array {
  const { times, known } = signal;
  const { binMs } = grid;
  if (!rateChanges(times, intervalMs)) {
    const whole = { first: 0, last: times.length - 1 };
    return isOnce(intervalMs, binMs) ? samplesByBin(signal, grid, whole) : meansByBin(signal, grid);
  }
  // The rate is another elsewhere: each stretch is taken as its own rate asks for.
  const intervals = intervalsAt(times);
  const finer = known.slice();
  const means = new Float64Array(grid.count).fill(Number.NaN);
  for (let i = 0; i < intervals.length; i++) {
    if (!isOnce(intervals[i], binMs)) continue;
    const first = i;
    while (i + 1 < intervals.length && isOnce(intervals[i + 1], binMs)) i++;
    finer.fill(0, first, i + 1);
    const part = samplesByBin(signal, grid, { first, last: i + 1 });
    for (let k = 0; k < part.length; k++) if (!Number.isNaN(part[k])) means[k] = part[k];
  }
  const ofFiner = meansByBin({ ...signal, known: finer }, grid);
  for (let k = 0; k < means.length; k++) if (!Number.isNaN(ofFiner[k])) means[k] = ofFiner[k];
  return means;
}

function meansByBin(signal: Signal, { binMs, firstBin, count }: BinGrid): Float64Array {
  const first = Math.max(0, firstAfter(signal.times, firstBin * binMs) - 1);
  const last = Math.min(signal.times.length - 1, firstAtOrAfter(signal.times, (firstBin + count) * binMs));
  const sums = binSums(signal, binMs, first, last, binMs);
  const shift = firstBin - sums.firstBin;
  const means = new Float64Array(count).fill(Number.NaN);
  for (let k = Math.max(0, -shift); k < count && k + shift < sums.area.length; k++) {
    const knownMs = sums.known[k + shift];
    if (knownMs >= binMs / 2) means[k] = sums.area[k + shift] / knownMs;
  }
  return means;
}
