import { Problem, shorten } from '../../recording/problem.js';
import type { Columns } from '../columns/columns.js';

/**
 * Watches the columns that may name a patient while a file is read as one patient's: two patients on one curve would
 * be a report of nobody.
 *
 * @returns a check of each row, which throws a Problem at the first that names another patient or bed
 */
export function onePatientOnly(
  { identities }: Columns,
  headers: readonly string[],
): (cells: readonly string[], line: number) => void {
  const first = new Map<number, string>();
  return (cells, line) => {
    for (const index of identities) {
      const value = cells[index]?.trim() ?? '';
      const before = first.get(index);
      if (value === '' || value === before) continue;
      if (before === undefined) {
        first.set(index, value);
        continue;
      }
      const column = headers[index];
      throw new Problem(
        `the rows name more than one: "${shorten(before)}" and "${shorten(value)}", in a file that is read as one patient`,
        `Say in the pipeline file patient: {column: ${shorten(column)}}, or split the file.`,
        { line, column },
      );
    }
  };
}
