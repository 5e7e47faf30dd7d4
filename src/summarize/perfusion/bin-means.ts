import { intervalsAt, maxGapMs, rateChanges } from '../../recording/sampling.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { type BinSums, binSums } from '../bin-sums.js';
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
    if (isOnce(intervalMs, binMs)) return samplesByBin(signal, grid, whole);
    return maxGapMs(intervalMs) <= FINE_MS ? meansOfFine(signal, grid) : meansByBin(signal, grid);
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

/** All bins are as long as these, or as several of them. */
const FINE_MS = 10_000;
/** Windows that are asked for later may begin so much before the first one. */
const LEAD_MS = 3_600_000;

/** Sums by fine bins over a part of a signal. */
interface FineSums {
  readonly start: number;
  readonly end: number;
  readonly sums: BinSums;
}

const remembered = new WeakMap<Signal, FineSums>();

/** The fine sums of a signal, gone through once for indices and waves of one period. */
function fineSums(signal: Signal, start: number, end: number): BinSums {
  const known = remembered.get(signal);
  if (known && known.start <= start && known.end >= end) return known.sums;
  const from = start - LEAD_MS;
  const first = Math.max(0, firstAfter(signal.times, from) - 1);
  const last = Math.min(signal.times.length - 1, firstAtOrAfter(signal.times, end));
  const sums = binSums(signal, FINE_MS, first, last);
  remembered.set(signal, { start: from, end, sums });
  return sums;
}

/** The same as `meansByBin` where no piece is longer than a fine bin. */
function meansOfFine(signal: Signal, { binMs, firstBin, count }: BinGrid): Float64Array {
  const sums = fineSums(signal, firstBin * binMs, (firstBin + count) * binMs);
  const perBin = binMs / FINE_MS;
  const shift = firstBin * perBin - sums.firstBin;
  const means = new Float64Array(count).fill(Number.NaN);
  for (let k = 0; k < count; k++) {
    let [area, knownMs] = [0, 0];
    const to = Math.min(sums.area.length, shift + (k + 1) * perBin);
    for (let i = Math.max(0, shift + k * perBin); i < to; i++) {
      area += sums.area[i];
      knownMs += sums.known[i];
    }
    if (knownMs >= binMs / 2) means[k] = area / knownMs;
  }
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
