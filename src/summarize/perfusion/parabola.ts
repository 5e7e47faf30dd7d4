/** y = curvature x (x - x0)^2 + slope x (x - x0) + intercept. */
export interface Parabola {
  readonly x0: number;
  readonly curvature: number;
  readonly slope: number;
  readonly intercept: number;
  /** Share of the weighted variance of y that it explains. */
  readonly r2: number;
}

/**
 * The weighted least-squares parabola through points, by polynomials that are orthogonal over them, so that nothing is
 * lost to rounding where x is far from 0.
 *
 * @param x not all the same; three different ones at least
 * @returns null where the points do not determine one
 */
export function weightedParabola(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights: ArrayLike<number>,
): Parabola | null {
  const n = x.length;
  const sum = (of: (i: number) => number): number => {
    let total = 0;
    for (let i = 0; i < n; i++) total += weights[i] * of(i);
    return total;
  };
  const weight = sum(() => 1);
  const x0 = sum((i) => x[i]) / weight;
  const meanY = sum((i) => y[i]) / weight;
  const p1 = (i: number): number => x[i] - x0;
  const norm1 = sum((i) => p1(i) ** 2);
  if (!(norm1 > 0)) return null;
  // The polynomial of degree 2 that is orthogonal to 1 and p1: p1^2 - b p1 - c.
  const b = sum((i) => p1(i) ** 3) / norm1;
  const c = norm1 / weight;
  const p2 = (i: number): number => p1(i) ** 2 - b * p1(i) - c;
  const norm2 = sum((i) => p2(i) ** 2);
  if (!(norm2 > 1e-12 * norm1 * norm1)) return null;
  const beta1 = sum((i) => (y[i] - meanY) * p1(i)) / norm1;
  const beta2 = sum((i) => (y[i] - meanY) * p2(i)) / norm2;
  const total = sum((i) => (y[i] - meanY) ** 2);
  const explained = beta1 * beta1 * norm1 + beta2 * beta2 * norm2;
  return {
    x0,
    curvature: beta2,
    slope: beta1 - beta2 * b,
    intercept: meanY - beta2 * c,
    r2: total > 0 ? Math.min(1, explained / total) : 0,
  };
}

/** Where a parabola that opens upward is lowest. */
export const lowestAt = ({ x0, curvature, slope }: Parabola): number => x0 - slope / (2 * curvature);

/** The two places at which a parabola reaches a height, the smaller first; null where it does not. */
export function reaches(parabola: Parabola, height: number): [lower: number, upper: number] | null {
  const { x0, curvature, slope, intercept } = parabola;
  const discriminant = slope * slope - 4 * curvature * (intercept - height);
  if (!(discriminant > 0)) return null;
  const half = Math.sqrt(discriminant) / (2 * Math.abs(curvature));
  const middle = x0 - slope / (2 * curvature);
  return [middle - half, middle + half];
}
