/**
 * Pearson correlation of a series with itself `lag` steps later, over the pairs in which both are finite.
 *
 * @returns NaN under 3 pairs or where either side is constant
 */
export function autocorrelation(series: ArrayLike<number>, lag: number): number {
  let n = 0;
  let sumA = 0;
  let sumB = 0;
  for (let i = 0; i + lag < series.length; i++) {
    if (!Number.isFinite(series[i]) || !Number.isFinite(series[i + lag])) continue;
    n++;
    sumA += series[i];
    sumB += series[i + lag];
  }
  if (n < 3) return Number.NaN;
  let covariance = 0;
  let varianceA = 0;
  let varianceB = 0;
  for (let i = 0; i + lag < series.length; i++) {
    if (!Number.isFinite(series[i]) || !Number.isFinite(series[i + lag])) continue;
    const a = series[i] - sumA / n;
    const b = series[i + lag] - sumB / n;
    covariance += a * b;
    varianceA += a * a;
    varianceB += b * b;
  }
  return varianceA > 0 && varianceB > 0 ? covariance / Math.sqrt(varianceA * varianceB) : Number.NaN;
}
