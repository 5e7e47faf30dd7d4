import { firstAtOrAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import type { BinGrid } from './bin-grid.js';

/** A sample that is off by so much of a bin may stand for the bin beside it. */
const OFF = 0.1;

/**
 * The bins of samples that come once a bin. Where stamps scatter around the border of two bins, two samples stand in one
 * and none in the next: then the one at the border is that of the empty bin.
 */
function binsOf(times: Float64Array, first: number, last: number, binMs: number): Float64Array {
  const bins = new Float64Array(last - first + 1);
  for (let i = first; i <= last; i++) bins[i - first] = Math.floor(times[i] / binMs);
  for (let n = 1; n < bins.length; n++) {
    if (bins[n] !== bins[n - 1]) continue;
    const isBeforeFree = n < 2 || bins[n - 2] < bins[n] - 1;
    const isBehindFree = n + 1 >= bins.length || bins[n + 1] > bins[n] + 1;
    const start = bins[n] * binMs;
    if (isBehindFree && start + binMs - times[first + n] <= OFF * binMs) bins[n]++;
    else if (isBeforeFree && times[first + n - 1] - start <= OFF * binMs) bins[n - 1]--;
  }
  return bins;
}

/**
 * The samples from `first` to `last` by the bins of a grid, the mean where two stand in one; NaN where none does. A sample
 * counts where it belongs to a known piece.
 */
export function samplesByBin(
  { times, values, known }: Signal,
  { binMs, firstBin, count }: BinGrid,
  { first, last }: { readonly first: number; readonly last: number },
): Float64Array {
  const sums = new Float64Array(count);
  const counts = new Uint32Array(count);
  const from = Math.max(first, firstAtOrAfter(times, (firstBin - 1) * binMs));
  const to = Math.min(last, firstAtOrAfter(times, (firstBin + count + 1) * binMs) - 1);
  if (from > to) return sums.fill(Number.NaN);
  const bins = binsOf(times, from, to, binMs);
  for (let i = from; i <= to; i++) {
    if (known[i] === 0 && (i === 0 || known[i - 1] === 0)) continue;
    const k = bins[i - from] - firstBin;
    if (k < 0 || k >= count) continue;
    sums[k] += values[i];
    counts[k]++;
  }
  return sums.map((sum, k) => (counts[k] === 0 ? Number.NaN : sum / counts[k]));
}
