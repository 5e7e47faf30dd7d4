import erfinv from '@stdlib/math-base-special-erfinv';
import { insist } from './estimate.js';

/**
 * So many standard deviations on both sides of the mean hold the share `level` of a normal distribution: 1.96 for 0.95.
 * It is the quantile at (1 + level) / 2, which is sqrt(2) erfinv(level).
 *
 * @param level above 0 and below 1
 */
export function normalReach(level: number): number {
  insist(level > 0 && level < 1, `a level above 0 and below 1, and got ${level}`);
  return Math.SQRT2 * erfinv(level);
}
