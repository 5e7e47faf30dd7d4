import { pearson } from '../../clean/pearson.js';
import type { Figure } from '../figure.js';
import { insist } from './estimate.js';
import { midranks } from './midranks.js';

/**
 * Spearman's rank correlation: Pearson's of the ranks, where same values share the middle of their places. As R's
 * `cor(method = "spearman")`. Source: Spearman, Am J Psychol 1904;15:72-101; with ties: Kendall, Rank Correlation
 * Methods, 1948, chapter 3.
 *
 * @param a finite values
 * @param b as many
 * @returns a reason where there are under two pairs, or all values of either are the same
 * @throws RangeError where lists differ in length or a value is not finite
 */
export function spearmanRho(a: ArrayLike<number>, b: ArrayLike<number>): Figure {
  insist(a.length === b.length, `as many of one as of the other, and got ${a.length} and ${b.length}`);
  insist(Array.from(a).every(Number.isFinite) && Array.from(b).every(Number.isFinite), 'finite values');
  if (a.length < 2) return { reason: 'a correlation needs two pairs' };
  const rho = pearson(midranks(a).ranks, midranks(b).ranks);
  return Number.isNaN(rho)
    ? { reason: 'all values of one of the two are the same' }
    : Math.max(-1, Math.min(1, rho));
}
