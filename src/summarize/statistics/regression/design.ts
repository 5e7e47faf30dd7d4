import { Matrix } from 'ml-matrix';
import { insist } from '../estimate.js';

/** Predictors, a list each, of the same patients in the same order. */
export type Columns = readonly ArrayLike<number>[];

/** Where the predictors before it leave a smaller share of its standard deviation, a predictor tells nothing of its own. */
const LEAST_OF_ITS_OWN = 1e-8;
/** Once more takes away what rounding leaves. */
const PASSES = 2;

/**
 * Predictors as regressions compute with them: each less its mean and less what those before it tell, with standard
 * deviation 1. So results do not hang on units, and predictors that are nearly alike (terms of a spline) cost no digits.
 * Rows are those that count at least once.
 */
export interface Design {
  readonly rows: Uint32Array;
  /** How often each row counts. */
  readonly weights: Float64Array;
  /** How many predictors; cells of a row stand together. */
  readonly width: number;
  readonly cells: Float64Array;
  readonly means: Float64Array;
  /** Upper triangular: cells times it are the predictors less their means. */
  readonly triangle: Matrix;
  /** Its inverse, by which coefficients of the design become those in own units. */
  readonly toOwn: Matrix;
}

/**
 * @param columns finite values
 * @param count how many patients there are
 * @param weights how often each counts, whole; once where nothing is said
 * @returns the reason where predictors cannot be told apart
 * @throws RangeError where lists differ in length or hold something else
 */
export function designOf(
  columns: Columns,
  count: number,
  weights?: ArrayLike<number>,
): Design | { readonly reason: string } {
  insist(weights === undefined || weights.length === count, `a weight for each of ${count} patients`);
  for (const column of columns) {
    insist(column.length === count, `${count} values of each predictor, and got ${column.length}`);
    insist(Array.prototype.every.call(column, Number.isFinite), 'finite values of predictors');
  }
  const every = weights === undefined ? new Float64Array(count).fill(1) : Float64Array.from(weights);
  insist(
    every.every((weight) => Number.isInteger(weight) && weight >= 0),
    'whole weights that are not negative',
  );
  const rows = new Uint32Array(count).map((_, i) => i).filter((i) => every[i] > 0);
  const kept = every.filter((weight) => weight > 0);
  const total = kept.reduce((sum, weight) => sum + weight, 0);
  const width = columns.length;
  const means = new Float64Array(width);
  const triangle = Matrix.zeros(width, width);
  const parts: Float64Array[] = [];
  const product = (x: Float64Array, y: Float64Array): number => {
    let sum = 0;
    for (let r = 0; r < x.length; r++) sum += kept[r] * x[r] * y[r];
    return sum / total;
  };
  const ones = new Float64Array(rows.length).fill(1);
  for (let k = 0; k < width; k++) {
    const column = columns[k];
    const own = new Float64Array(rows.length);
    for (let r = 0; r < rows.length; r++) own[r] = column[rows[r]];
    means[k] = product(own, ones);
    for (let r = 0; r < rows.length; r++) own[r] -= means[k];
    const spread = Math.sqrt(product(own, own));
    // What rounding leaves of a constant is no spread.
    if (!(spread > 1e-12 * Math.abs(means[k]))) return { reason: 'a predictor is the same in all patients' };
    for (let pass = 0; pass < PASSES; pass++) {
      parts.forEach((part, j) => {
        const shared = product(part, own);
        triangle.set(j, k, triangle.get(j, k) + shared);
        for (let r = 0; r < own.length; r++) own[r] -= shared * part[r];
      });
    }
    const left = Math.sqrt(product(own, own));
    if (!(left > LEAST_OF_ITS_OWN * spread)) return { reason: 'a predictor is a combination of the others' };
    triangle.set(k, k, left);
    for (let r = 0; r < own.length; r++) own[r] /= left;
    parts.push(own);
  }
  const cells = new Float64Array(rows.length * width);
  parts.forEach((part, k) => {
    for (let r = 0; r < rows.length; r++) cells[r * width + k] = part[r];
  });
  return { rows, weights: kept, width, cells, means, triangle, toOwn: inverseOfTriangle(triangle) };
}

/** Of an upper triangular matrix. */
function inverseOfTriangle(triangle: Matrix): Matrix {
  const size = triangle.rows;
  const inverse = Matrix.zeros(size, size);
  for (let column = 0; column < size; column++) {
    for (let row = column; row >= 0; row--) {
      let sum = row === column ? 1 : 0;
      for (let k = row + 1; k <= column; k++) sum -= triangle.get(row, k) * inverse.get(k, column);
      inverse.set(row, column, sum / triangle.get(row, row));
    }
  }
  return inverse;
}

/** A row of predictors as it stands in the design. */
export function asInDesign({ width, means, toOwn }: Design, row: ArrayLike<number>): Float64Array {
  const cells = new Float64Array(width);
  for (let k = 0; k < width; k++) {
    for (let j = 0; j <= k; j++) cells[k] += (row[j] - means[j]) * toOwn.get(j, k);
  }
  return cells;
}

/**
 * Coefficients of the design as those in own units, as one matrix: first those of what stands before the predictors
 * (an intercept or cuts), which move by `sign` times what the means make, then slopes.
 */
export function changeToOwn({ width, means, toOwn }: Design, before: number, sign: 1 | -1): Matrix {
  const change = Matrix.eye(before + width, before + width);
  for (let k = 0; k < width; k++) {
    let shift = 0;
    for (let j = 0; j <= k; j++) {
      change.set(before + j, before + k, toOwn.get(j, k));
      shift += means[j] * toOwn.get(j, k);
    }
    for (let i = 0; i < before; i++) change.set(i, before + k, sign * shift);
  }
  return change;
}

/** The predictors with that one moved to the end, where its coefficient is an axis of the design alone. */
export function withLast(columns: Columns, predictor: number): Columns {
  insist(
    Number.isInteger(predictor) && predictor >= 0 && predictor < columns.length,
    `the index of one of ${columns.length} predictors, and got ${predictor}`,
  );
  return [...columns.slice(0, predictor), ...columns.slice(predictor + 1), columns[predictor]];
}
