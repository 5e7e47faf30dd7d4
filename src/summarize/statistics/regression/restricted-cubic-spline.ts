import { insist } from '../estimate.js';
import { quantileSorted } from '../quantile-sorted.js';

/** Where knots are put, as quantiles, by how many there are. Source: as `splineTerms`, table 2.3. */
const KNOT_QUANTILES: Readonly<Record<3 | 4 | 5, readonly number[]>> = {
  3: [0.1, 0.5, 0.9],
  4: [0.05, 0.35, 0.65, 0.95],
  5: [0.05, 0.275, 0.5, 0.725, 0.95],
};

/**
 * Knots at quantiles of the values, rising.
 *
 * @param values finite, one or more
 * @param quantiles that many at the places usual for them, or the places themselves, rising from 0 to 1
 * @returns the reason where two knots fall together, as where many patients have a burden of 0
 */
export function knotsAt(
  values: ArrayLike<number>,
  quantiles: 3 | 4 | 5 | readonly number[],
): number[] | { readonly reason: string } {
  const sorted = Float64Array.from(values).sort();
  insist(sorted.length > 0 && sorted.every(Number.isFinite), 'finite values, one or more');
  const places = typeof quantiles === 'number' ? KNOT_QUANTILES[quantiles] : quantiles;
  insist(places.length >= 3 && places.every((p) => p >= 0 && p <= 1), 'three quantiles or more, from 0 to 1');
  const knots = places.map((p) => quantileSorted(sorted, p));
  return areRising(knots)
    ? knots
    : { reason: 'too many patients have the same value for a curve: two of its knots fall together' };
}

/**
 * The terms of a restricted cubic spline at `x`: x itself, and a cubic for each knot but the last two. Any sum of them is
 * twice continuously differentiable, and a straight line beyond the outer knots. They are divided by the square of the
 * distance of the outer knots, so that all are in the unit of x. Source: Harrell, Regression Modeling Strategies, 2nd ed.
 * 2015, section 2.4.5.
 *
 * @param knots three or more, rising
 * @returns as many terms as knots, less one
 */
export function splineTerms(x: number, knots: readonly number[]): number[] {
  insist(knots.length >= 3 && areRising(knots), 'three knots or more, rising');
  const [last, beforeLast] = [knots[knots.length - 1], knots[knots.length - 2]];
  const cubed = (distance: number): number => (distance > 0 ? distance ** 3 : 0);
  const square = (last - knots[0]) ** 2;
  const gap = last - beforeLast;
  const bent = knots
    .slice(0, -2)
    .map(
      (knot) =>
        (cubed(x - knot) -
          (cubed(x - beforeLast) * (last - knot)) / gap +
          (cubed(x - last) * (beforeLast - knot)) / gap) /
        square,
    );
  return [x, ...bent];
}

/** The terms as predictors, a list each. */
export function splineColumns(values: ArrayLike<number>, knots: readonly number[]): Float64Array[] {
  const rows = Array.from(values, (x) => splineTerms(x, knots));
  return knots.slice(1).map((_, k) => Float64Array.from(rows, (row) => row[k]));
}

const areRising = (knots: readonly number[]): boolean =>
  knots.every((knot, i) => Number.isFinite(knot) && (i === 0 || knot > knots[i - 1]));
