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
    const information = Matrix.zeros(width + 1, width + 1);
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
    for (let a = 0; a <= width; a++) {
      for (let b = 0; b <= width; b++) {
        information.set(a, b, sums[Math.max(a, b) * (width + 1) + Math.min(a, b)]);
      }
    }
    if (!this.isPenalised) return { value, slope, information };
    const roots = new CholeskyDecomposition(information);
    if (!roots.isPositiveDefinite()) return null;
    for (const root of roots.lowerTriangularMatrix.diagonal()) value += Math.log(root);
    const inverse = roots.solve(Matrix.eye(width + 1, width + 1)).to2DArray();
    for (let r = 0; r < n; r++) {
      const eta = logOdds[r];
      const leverage = logisticDensity(eta) * quadratic(inverse, cells, r, width);
      addRow(slope, cells, r, width, weights[r] * leverage * (0.5 - logistic(eta)));
    }
    return Number.isFinite(value) ? { value, slope, information } : null;
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
