import { shorten } from '../../recording/problem.js';

/** What to do about a cell that cannot be read. */
export const CORRECT_CELL =
  'Correct the cell; where it means "no value", list it in the pipeline file as columns: {missing: [...]}.';

/** What is wrong with a cell, with its column in front. */
export const placed = (header: string, what: string): string => `column "${shorten(header)}": ${what}`;
