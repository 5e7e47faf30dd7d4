import erfc from '@stdlib/math-base-special-erfc';
import { insist } from './estimate.js';

/** How much of a normal distribution lies further than `z` standard deviations from its mean, on either side. */
export const twoSidedTail = (z: number): number => erfc(Math.abs(z) / Math.SQRT2);

/**
 * How much of a chi-square distribution lies above `x`: the closed forms for whole degrees of freedom, which are sums of
 * positive terms. Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.4.4 and 26.4.5.
 *
 * @param freedom degrees of freedom, 1 or more
 */
export function chiSquareTail(x: number, freedom: number): number {
  insist(
    Number.isInteger(freedom) && freedom >= 1,
    `one whole degree of freedom or more, and got ${freedom}`,
  );
  insist(!Number.isNaN(x), 'a number');
  if (x <= 0) return 1;
  if (x === Number.POSITIVE_INFINITY) return 0;
  const isEven = freedom % 2 === 0;
  let tail = isEven ? Math.exp(-x / 2) : erfc(Math.sqrt(x / 2));
  let term = isEven ? tail : Math.sqrt((2 * x) / Math.PI) * Math.exp(-x / 2);
  for (let k = isEven ? 2 : 1; k < freedom; k += 2) {
    if (isEven) term *= x / k;
    tail += term;
    if (!isEven) term *= x / (k + 2);
  }
  return Math.min(1, tail);
}
