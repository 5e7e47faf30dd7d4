import type { Signal } from '../recording/signal.js';

/** The scatter of a channel, block by block of time. */
export interface BlockScatter {
  readonly blockMs: number;
  /** Start of each block, milliseconds UTC, in order; blocks without samples are left out. */
  readonly starts: Float64Array;
  /** Mean absolute difference of neighbouring samples in each block, mmHg. */
  readonly scatterMmHg: Float64Array;
}

/** Differences beyond this many times the usual one are coughs and steps, not scatter. */
const CAP = 6;
const FEWEST_PAIRS = 4;

/**
 * Mean absolute difference of neighbouring samples in blocks of time; large ones are cut down to the cap.
 *
 * @param usualMmHg the usual difference, for the cap
 */
export function blockScatter(
  { times, values, known }: Signal,
  blockMs: number,
  usualMmHg: number,
): BlockScatter {
  const starts: number[] = [];
  const scatter: number[] = [];
  for (let i = 0; i < times.length; ) {
    const start = Math.floor(times[i] / blockMs) * blockMs;
    let sum = 0;
    let pairs = 0;
    for (; i < times.length && times[i] < start + blockMs; i++) {
      if (!known[i]) continue;
      sum += Math.min(CAP * usualMmHg, Math.abs(values[i + 1] - values[i]));
      pairs++;
    }
    if (pairs < FEWEST_PAIRS) continue;
    starts.push(start);
    scatter.push(sum / pairs);
  }
  return { blockMs, starts: Float64Array.from(starts), scatterMmHg: Float64Array.from(scatter) };
}
