import { CholeskyDecomposition, Matrix } from 'ml-matrix';

/** Of a matrix that is symmetric and positive definite. */
export const inverseOf = (matrix: Matrix): Matrix =>
  new CholeskyDecomposition(matrix).solve(Matrix.eye(matrix.rows, matrix.rows));
