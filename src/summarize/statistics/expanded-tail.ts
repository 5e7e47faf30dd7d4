import erfc from '@stdlib/math-base-special-erfc';
import { normalReach } from './normal-reach.js';

/**
 * As `normalReach` for Student's t with so many degrees of freedom, by an expansion that is right to 1e-4 from 9 on at
 * levels up to 0.95. Source: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.7.5.
 */
export function studentReach(level: number, freedom: number): number {
  const z = normalReach(level);
  const s = z * z;
  return (
    z +
    (z * (s + 1)) / (4 * freedom) +
    (z * ((5 * s + 16) * s + 3)) / (96 * freedom ** 2) +
    (z * (((3 * s + 19) * s + 17) * s - 15)) / (384 * freedom ** 3) +
    (z * ((((79 * s + 776) * s + 1482) * s - 1920) * s - 945)) / (92_160 * freedom ** 4)
  );
}

/**
 * The share of resamples that a percentile interval leaves out on each side, so that it is as wide with few clusters as
 * an interval by Student's t would be: the normal tail beyond sqrt(n / (n - 1)) times t. The plain share, 2.5 % for a
 * level of 0.95, gives intervals that are too narrow. Source: Hesterberg, Am Stat 2015;69:371-86 (expanded percentile
 * interval).
 *
 * @param count of clusters, 10 or more
 */
export const expandedTail = (level: number, count: number): number =>
  erfc((Math.sqrt(count / (count - 1)) * studentReach(level, count - 1)) / Math.SQRT2) / 2;
