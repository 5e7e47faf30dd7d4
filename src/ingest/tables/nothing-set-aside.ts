import { Problem } from '../../recording/problem.js';
import type { TableFile } from './read-table-file.js';

/**
 * A table on whose every row a person counts: a row that would be set aside refuses the table.
 *
 * @param what such a row is, as in "a decision"
 * @throws Problem with the file and the line
 */
export function refuseSetAside<R>(table: TableFile<R>, what: string): void {
  const [above] = table.linesAbove;
  if (above !== undefined) {
    throw new Problem(
      `the line stands above the header, and may be ${what} that would be lost`,
      'Put the header first: sort rows without it, or take the line out.',
      { file: table.file, line: above },
    );
  }
  const lost = table.setAside.find(({ kind }) => kind !== 'footer' && kind !== 'repeat');
  if (lost)
    throw new Problem(lost.reason, lost.fix ?? 'Correct the row.', { file: table.file, line: lost.line });
}
