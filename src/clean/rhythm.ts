import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { autocorrelation } from './autocorrelation.js';

/** Width of the means on which the rhythm is looked for, seconds. */
const BIN_SECONDS = 5;
const WINDOW_SECONDS = 600;
const SHORTEST_LAG_SECONDS = 30;
const LONGEST_LAG_SECONDS = 120;
/** A straight drift correlates fully at every lag, one lag as much as the other but for rounding. */
const ROUNDING = 1e-9;

/** Means of the samples in bins of 5 s over 10 min around a time; NaN where a bin holds no sample. */
function binsAround({ times, values }: Signal, centre: number): Float64Array {
  const start = centre - (WINDOW_SECONDS / 2) * 1000;
  const bins = new Float64Array(WINDOW_SECONDS / BIN_SECONDS);
  const counts = new Uint32Array(bins.length);
  const to = firstAfter(times, start + WINDOW_SECONDS * 1000 - 1);
  for (let i = firstAtOrAfter(times, start); i < to; i++) {
    const bin = Math.floor((times[i] - start) / (BIN_SECONDS * 1000));
    bins[bin] += values[i];
    counts[bin]++;
  }
  return bins.map((sum, bin) => (counts[bin] === 0 ? Number.NaN : sum / counts[bin]));
}

/**
 * The strongest rhythm with a period of 30 to 120 s in the 10 min around a time, as an autocorrelation from -1 to 1.
 * Waves repeat themselves; coughs do not. -1 where it cannot be told.
 */
export function rhythmAround(signal: Signal, centre: number): number {
  const bins = binsAround(signal, centre);
  let strongest = -1;
  for (let lag = SHORTEST_LAG_SECONDS / BIN_SECONDS; lag <= LONGEST_LAG_SECONDS / BIN_SECONDS; lag++) {
    const r = autocorrelation(bins, lag);
    // A slow drift correlates at every lag; a rhythm is stronger at its period than at half of it.
    if (r > strongest && r > autocorrelation(bins, lag >> 1) + ROUNDING) strongest = r;
  }
  return strongest;
}
