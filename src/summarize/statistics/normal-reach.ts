import erfc from '@stdlib/math-base-special-erfc';
import { insist } from './estimate.js';

/** Halves the interval in which the answer lies until it is no wider than the last bit of a number. */
const HALVINGS = 80;
/** Beyond it no double is left of the tails. */
const FURTHEST = 40;

/**
 * So many standard deviations on both sides of the mean hold the share `level` of a normal distribution: 1.96 for 0.95.
 * Beyond z lies erfc(z / sqrt(2)) of it.
 *
 * @param level above 0 and below 1
 */
export function normalReach(level: number): number {
  insist(level > 0 && level < 1, `a level above 0 and below 1, and got ${level}`);
  let [low, high] = [0, FURTHEST];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (erfc(middle / Math.SQRT2) > 1 - level) low = middle;
    else high = middle;
  }
  return high;
}
