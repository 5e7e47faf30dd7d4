import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { binSums } from '../bin-sums.js';

/** Bins of one length on UTC multiples of it, one behind the other. */
export interface BinGrid {
  readonly binMs: number;
  /** Start of bin k is (firstBin + k) x binMs, milliseconds UTC. */
  readonly firstBin: number;
  readonly count: number;
}

/** The bins that lie in the window as wholes. */
export const gridIn = ({ start, end }: { start: number; end: number }, binMs: number): BinGrid => {
  const firstBin = Math.ceil(start / binMs);
  return { binMs, firstBin, count: Math.max(0, Math.floor(end / binMs) - firstBin) };
};

/** An interval this near to the length of a bin is that length. */
const SAME_LENGTH = 0.05;

/**
 * Means of a channel over bins; NaN where a bin is known for less than half. A channel that comes once a bin is taken as
 * it comes: the sample itself, where it belongs to a known piece. A bin inside a piece that is longer than a bin is
 * unknown, also where the channel is finer elsewhere.
 *
 * @param intervalMs the channel's nominal interval
 */
export function binMeans(signal: Signal, intervalMs: number, grid: BinGrid): Float64Array {
  const { binMs } = grid;
  const isOnce = Math.abs(intervalMs - binMs) <= SAME_LENGTH * binMs;
  return isOnce ? samplesByBin(signal, grid) : meansByBin(signal, grid);
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

function samplesByBin({ times, values, known }: Signal, { binMs, firstBin, count }: BinGrid): Float64Array {
  const sums = new Float64Array(count);
  const counts = new Uint32Array(count);
  const end = (firstBin + count) * binMs;
  for (let i = firstAtOrAfter(times, firstBin * binMs); i < times.length && times[i] < end; i++) {
    if (known[i] === 0 && (i === 0 || known[i - 1] === 0)) continue;
    const k = Math.floor(times[i] / binMs) - firstBin;
    sums[k] += values[i];
    counts[k]++;
  }
  return sums.map((sum, k) => (counts[k] === 0 ? Number.NaN : sum / counts[k]));
}
