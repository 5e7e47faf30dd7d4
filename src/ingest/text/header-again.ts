import { Problem } from '../../recording/problem.js';

/** True where two rows hold the same cells, whatever their case and spaces. */
export const sameCells = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((cell, i) => cell.trim().toLowerCase() === b[i].trim().toLowerCase());

/** The file holds another header further down. */
export const headerAgain = (line: number): Problem =>
  new Problem(
    'another header stands here',
    'Two exports with different columns seem to be joined: split the file here.',
    { line },
  );
