import { pearson } from './pearson.js';

/**
 * Pearson correlation of a series with itself `lag` steps later, over the pairs in which both are finite.
 *
 * @returns NaN under 3 pairs or where either side is constant
 */
export function autocorrelation(series: ArrayLike<number>, lag: number): number {
  const now: number[] = [];
  const later: number[] = [];
  for (let i = 0; i + lag < series.length; i++) {
    if (!Number.isFinite(series[i]) || !Number.isFinite(series[i + lag])) continue;
    now.push(series[i]);
    later.push(series[i + lag]);
  }
  return now.length < 3 ? Number.NaN : pearson(now, later);
}
