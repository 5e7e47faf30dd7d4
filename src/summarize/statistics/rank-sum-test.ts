import type { Figure } from '../figure.js';
import { insist } from './estimate.js';
import { midranks } from './midranks.js';
import { rankSumDistribution } from './rank-sum-distribution.js';
import { twoSidedTail } from './tails.js';

/** From so many on, in either group, p is by the normal approximation; as R's `wilcox.test`. */
export const LEAST_FOR_NORMAL = 50;

export interface RankSumTest {
  /** W as R's: pairs in which the value of the first group is higher; those with the same value count one half. */
  readonly pairsHigher: number;
  /** Two-sided. */
  readonly p: Figure;
  /** `exact` from the distribution of W; `normal` by approximation with corrections for ties and for continuity. */
  readonly method: 'exact' | 'normal';
}

/**
 * Whether values of one group tend to be higher than those of another: the rank sum test of Wilcoxon, Mann and Whitney,
 * as R's `wilcox.test`. Exact where both groups are under 50 and no two values are the same, else by the normal
 * approximation. Sources: Mann & Whitney, Ann Math Stat 1947;18:50-60; Lehmann, Nonparametrics, 1975, section 1.4
 * (variance with ties).
 *
 * @param first values of the first group, finite
 * @param second values of the second group, finite
 * @param method given where exactness is not wanted
 * @returns a reason for p where a group is empty or all values are the same
 * @throws RangeError where a value is not finite
 */
export function rankSumTest(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  method?: 'normal',
): RankSumTest {
  const [m, n] = [first.length, second.length];
  const all = [...Array.from(first), ...Array.from(second)];
  insist(all.every(Number.isFinite), 'finite values');
  const { ranks, ties } = midranks(all);
  const sum = ranks.subarray(0, m).reduce((total, rank) => total + rank, 0);
  const pairsHigher = sum - (m * (m + 1)) / 2;
  if (m === 0 || n === 0) {
    return { pairsHigher, p: { reason: 'one of the two groups is empty' }, method: 'normal' };
  }
  const isExact = method !== 'normal' && m < LEAST_FOR_NORMAL && n < LEAST_FOR_NORMAL && ties === 0;
  return isExact
    ? { pairsHigher, p: exactTail(pairsHigher, m, n), method: 'exact' }
    : { pairsHigher, p: normalTail(pairsHigher, m, n, ties), method: 'normal' };
}

/** Twice the share of the smaller tail, with W itself. */
function exactTail(w: number, m: number, n: number): number {
  const lowest = Math.min(w, m * n - w);
  const tail = rankSumDistribution(m, n)
    .subarray(0, lowest + 1)
    .reduce((total, share) => total + share, 0);
  return Math.min(1, 2 * tail);
}

function normalTail(w: number, m: number, n: number, ties: number): Figure {
  const all = m + n;
  const variance = ((m * n) / 12) * (all + 1 - ties / (all * (all - 1)));
  if (!(variance > 0)) return { reason: 'all values are the same' };
  const off = w - (m * n) / 2;
  return twoSidedTail((off - 0.5 * Math.sign(off)) / Math.sqrt(variance));
}
