import { CholeskyDecomposition, Matrix } from 'ml-matrix';
import type { Height, Hill } from './climb.js';
import type { Design } from './design.js';

/** log(1 + e^x), without overflow. */
export const softplus = (x: number): number => Math.max(0, x) + Math.log1p(Math.exp(-Math.abs(x)));
/** 1 / (1 + e^-x). */
export const logistic = (x: number): number =>
  x >= 0 ? 1 / (1 + Math.exp(-x)) : Math.exp(x) / (1 + Math.exp(x));
/** p (1 - p) at log odds x, to full precision also far out. */
export const logisticDensity = (x: number): number => {
  const tail = Math.exp(-Math.abs(x));
  return tail / (1 + tail) ** 2;
};

/**
 * The likelihood of a logistic regression; its axes are the intercept and the slopes of the design. Penalised, it is
 * Firth's: half the logarithm of the determinant of the information is added, which is worth most where no probability is
 * near 0 or 1.
 */
export class LogitHill implements Hill {
  readonly canBeEndless: boolean;

  /** @param events 0 or 1 of each row of the design */
  constructor(
    private readonly design: Design,
    private readonly events: Uint8Array,
    private readonly isPenalised: boolean,
  ) {
    this.canBeEndless = !isPenalised;
  }

  at(place: Float64Array): Height | null {
    const { weights, width, cells } = this.design;
    const n = weights.length;
    const logOdds = this.logOdds(place);
    const slope = new Float64Array(width + 1);
    const sums = new Float64Array((width + 1) * (width + 1));
    let value = 0;
    for (let r = 0; r < n; r++) {
      // The log odds of what did not happen; all is made of one power, and precise however far out.
      const against = this.events[r] === 1 ? -logOdds[r] : logOdds[r];
      const tail = Math.exp(-Math.abs(against));
      const missed = (against > 0 ? 1 : tail) / (1 + tail);
      value -= weights[r] * (Math.max(0, against) + Math.log1p(tail));
      addRow(slope, cells, r, width, this.events[r] === 1 ? weights[r] * missed : -weights[r] * missed);
      addSquare(sums, cells, r, width, (weights[r] * tail) / ((1 + tail) * (1 + tail)));
    }
    const information = symmetric(sums, width + 1);
    return this.isPenalised
      ? this.penalised({ value, slope, information }, logOdds)
      : { value, slope, information };
  }

  /**
   * Adds half the logarithm of the determinant of the information, with its derivatives: of the first order by
   * leverages, of the second by traces of what the information and its derivatives make together.
   */
  private penalised({ value, slope, information }: Height, logOdds: Float64Array): Height | null {
    const { weights, width, cells } = this.design;
    const size = width + 1;
    const roots = new CholeskyDecomposition(information);
    if (!roots.isPositiveDefinite()) return null;
    const penalty = roots.lowerTriangularMatrix.diagonal().reduce((sum, root) => sum + Math.log(root), 0);
    if (!Number.isFinite(penalty)) return null;
    const inverse = roots.solve(Matrix.eye(size, size));
    const spread = inverse.to2DArray();
    const raised = slope.slice();
    // Of the information along each axis: below and on the diagonal, as `addSquare` adds.
    const along = Array.from({ length: size }, () => new Float64Array(size * size));
    const bent = new Float64Array(size * size);
    for (let r = 0; r < weights.length; r++) {
      const density = logisticDensity(logOdds[r]);
      const skew = -Math.tanh(logOdds[r] / 2);
      const reach = quadratic(spread, cells, r, width);
      addRow(raised, cells, r, width, (weights[r] * density * skew * reach) / 2);
      addSquare(bent, cells, r, width, (weights[r] * density * (1 - 6 * density) * reach) / 2);
      for (let a = 0; a < size; a++) {
        const cell = a === 0 ? 1 : cells[r * width + a - 1];
        addSquare(along[a], cells, r, width, weights[r] * density * skew * cell);
      }
    }
    const turned = along.map((sums) => inverse.mmul(symmetric(sums, size)));
    const curvature = Matrix.sub(information, symmetric(bent, size));
    for (let a = 0; a < size; a++) {
      for (let b = 0; b < size; b++) {
        curvature.set(
          a,
          b,
          curvature.get(a, b) + traceOfProduct(turned[Math.max(a, b)], turned[Math.min(a, b)]) / 2,
        );
      }
    }
    return { value: value + penalty, slope: raised, information, curvature };
  }

  gains(step: Float64Array): Float64Array {
    const gains = this.logOdds(step);
    for (let r = 0; r < gains.length; r++) if (this.events[r] === 0) gains[r] = -gains[r];
    return gains;
  }

  private logOdds(place: Float64Array): Float64Array {
    const { weights, width, cells } = this.design;
    const logOdds = new Float64Array(weights.length);
    for (let r = 0; r < logOdds.length; r++) {
      let sum = place[0];
      for (let k = 0; k < width; k++) sum += place[k + 1] * cells[r * width + k];
      logOdds[r] = sum;
    }
    return logOdds;
  }
}

/** Adds a row of the design, with its 1 before it, so many times. */
function addRow(to: Float64Array, cells: Float64Array, r: number, width: number, times: number): void {
  to[0] += times;
  for (let k = 0; k < width; k++) to[k + 1] += times * cells[r * width + k];
}

/** Adds the products of a row with itself, so many times, below and on the diagonal. */
function addSquare(to: Float64Array, cells: Float64Array, r: number, width: number, times: number): void {
  const size = width + 1;
  to[0] += times;
  for (let a = 0; a < width; a++) {
    const own = times * cells[r * width + a];
    const from = (a + 1) * size;
    to[from] += own;
    for (let b = 0; b <= a; b++) to[from + b + 1] += own * cells[r * width + b];
  }
}

/** A matrix of what `addSquare` has added. */
function symmetric(sums: Float64Array, size: number): Matrix {
  const matrix = Matrix.zeros(size, size);
  for (let a = 0; a < size; a++) {
    for (let b = 0; b < size; b++) matrix.set(a, b, sums[Math.max(a, b) * size + Math.min(a, b)]);
  }
  return matrix;
}

function traceOfProduct(a: Matrix, b: Matrix): number {
  let sum = 0;
  for (let i = 0; i < a.rows; i++) for (let j = 0; j < a.rows; j++) sum += a.get(i, j) * b.get(j, i);
  return sum;
}

/** Row times matrix times row. */
function quadratic(matrix: number[][], cells: Float64Array, r: number, width: number): number {
  let sum = matrix[0][0];
  for (let a = 0; a < width; a++) {
    const own = cells[r * width + a];
    let across = 2 * matrix[a + 1][0];
    for (let b = 0; b < width; b++) across += matrix[a + 1][b + 1] * cells[r * width + b];
    sum += own * across;
  }
  return sum;
}
