import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import { insist } from '../estimate.js';

/** Predictors, a list each, of the same patients in the same order. */
export type Columns = readonly ArrayLike<number>[];

/** Under this share of its variance that the predictors before it leave open, a predictor tells nothing of its own. */
const LEAST_OWN_VARIANCE = 1e-10;

/**
 * Predictors as regressions compute with them: less their means and divided by their standard deviations, so that results
 * do not hang on units. Rows are those that count at least once.
 */
export interface Design {
  readonly rows: Uint32Array;
  /** How often each row counts. */
  readonly weights: Float64Array;
  /** How many predictors; cells of a row stand together. */
  readonly width: number;
  readonly cells: Float64Array;
  readonly means: Float64Array;
  readonly scales: Float64Array;
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
  const cells = new Float64Array(rows.length * width);
  const means = new Float64Array(width);
  const scales = new Float64Array(width);
  for (let k = 0; k < width; k++) {
    const column = columns[k];
    let sum = 0;
    for (let r = 0; r < rows.length; r++) sum += kept[r] * column[rows[r]];
    const mean = sum / total;
    let squares = 0;
    for (let r = 0; r < rows.length; r++) squares += kept[r] * (column[rows[r]] - mean) ** 2;
    const scale = Math.sqrt(squares / total);
    // What rounding leaves of a constant is no spread.
    if (!(scale > 1e-12 * Math.abs(mean))) return { reason: 'a predictor is the same in all patients' };
    for (let r = 0; r < rows.length; r++) cells[r * width + k] = (column[rows[r]] - mean) / scale;
    means[k] = mean;
    scales[k] = scale;
  }
  const design = { rows, weights: kept, width, cells, means, scales };
  return areApart(design, total) ? design : { reason: 'a predictor is a combination of the others' };
}

function areApart({ rows, weights, width, cells }: Design, total: number): boolean {
  if (width < 2) return true;
  const correlations = Matrix.eye(width, width);
  for (let a = 0; a < width; a++) {
    for (let b = 0; b < a; b++) {
      let sum = 0;
      for (let r = 0; r < rows.length; r++) sum += weights[r] * cells[r * width + a] * cells[r * width + b];
      correlations.set(a, b, sum / total);
      correlations.set(b, a, sum / total);
    }
  }
  const roots = new CholeskyDecomposition(correlations);
  return (
    roots.isPositiveDefinite() &&
    roots.lowerTriangularMatrix.diagonal().every((root) => root * root > LEAST_OWN_VARIANCE)
  );
}

/** A row of predictors as it stands in the design. */
export const standardised = ({ means, scales }: Design, row: ArrayLike<number>): Float64Array =>
  Float64Array.from(means, (mean, k) => (row[k] - mean) / scales[k]);
