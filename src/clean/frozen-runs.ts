import type { Signal } from '../recording/signal.js';
import { type EqualRun, equalRuns } from './equal-runs.js';

/** ICP in whole mmHg at 1 Hz changes about so often in a quiet patient. Common practice, no source. */
const USUAL_CHANGE_SHARE = 0.1;
/** Neighbours that follow each other closely are alike; minutes tell how often a channel keeps its value by itself. */
const BLOCK_MS = 60_000;
const LEAST_IN_BLOCK = 10;
/** A channel that keeps its value in more of the minutes than this, beside the long runs, is coarse: they count too. */
const COARSE_SHARE = 0.05;

/** Runs of equal values that last so long and that chance would give less often than that. */
export function frozenRuns(
  signal: Signal,
  { minMs, chance }: { readonly minMs: number; readonly chance: number },
): EqualRun[] {
  const { times } = signal;
  const long = equalRuns(signal).filter(({ first, last }) => times[last] - times[first] >= minMs);
  if (long.length === 0) return [];
  const stillShare = stillBlocks(signal, long);
  return long.filter((run) => {
    const { first, last, hasLived, chanceOfRepeats } = run;
    if (!hasLived) return (1 - USUAL_CHANGE_SHARE) ** (last - first) < chance;
    const blocks = Math.floor((times[last] - times[first]) / BLOCK_MS);
    return chanceOfRepeats < chance && (stillShare === null || stillShare ** blocks < chance);
  });
}

/**
 * Share of the minutes over which the value stays the same: a slow wander in whole numbers keeps it for minutes, however
 * often it changes at the edge between two. Long runs count only where the channel keeps its value between them too; else
 * they would speak for themselves. Null where samples are too rare to tell.
 */
function stillBlocks({ times, values, known }: Signal, long: readonly EqualRun[]): number | null {
  let still = 0;
  let blocks = 0;
  let next = 0;
  for (let i = 0; i < times.length; ) {
    const run = long[next];
    if (run && i >= run.first) {
      i = run.last + 1;
      next++;
      continue;
    }
    const first = i;
    let isStill = true;
    const end = Math.min(run?.first ?? times.length, times.length);
    while (i < end && times[i] - times[first] < BLOCK_MS) {
      if (i > first && (values[i] !== values[first] || !known[i - 1])) isStill = false;
      i++;
    }
    if (i - first < LEAST_IN_BLOCK) continue;
    blocks++;
    if (isStill) still++;
  }
  if (blocks === 0) return null;
  const share = (still + 1) / (blocks + 2);
  if (share < COARSE_SHARE) return share;
  const inRuns = long.reduce((sum, { first, last }) => sum + (times[last] - times[first]) / BLOCK_MS, 0);
  return (still + inRuns) / (blocks + inRuns);
}
