import { type Estimate, insist, noEstimate } from './estimate.js';
import { normalReach } from './normal-reach.js';

/**
 * A share with its interval by Wilson, which stays between 0 and 1 and holds for few as well. As R's
 * `prop.test(correct = FALSE)`. It takes each of the `n` as independent: where patients have several each, bootstrap
 * over patients instead. Source: Wilson, J Am Stat Assoc 1927;22:209-12.
 *
 * @param successes whole, from 0 to n
 * @param n whole
 * @param level share of the interval
 * @returns reasons where n is 0
 * @throws RangeError where the counts are none
 */
export function wilsonInterval(successes: number, n: number, level = 0.95): Estimate {
  const areCounts = Number.isInteger(successes) && Number.isInteger(n) && successes >= 0 && successes <= n;
  insist(areCounts, `a count from 0 to its total, and got ${successes} of ${n}`);
  const z = normalReach(level);
  if (n === 0) return noEstimate('there is nothing to take a share of');
  const p = successes / n;
  const inflation = 1 + (z * z) / n;
  const centre = (p + (z * z) / (2 * n)) / inflation;
  const reach = (z / inflation) * Math.sqrt((p * (1 - p)) / n + (z * z) / (4 * n * n));
  return {
    value: p,
    // Exact at the ends, where both terms are the same but for rounding.
    lower: successes === 0 ? 0 : centre - reach,
    upper: successes === n ? 1 : centre + reach,
  };
}
