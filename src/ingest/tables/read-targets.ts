import { Problem, shorten } from '../../recording/problem.js';
import type { ExportFile } from '../find-exports.js';
import { TARGET_TABLE, type TargetRow } from './cpp-targets.js';
import { refuseSetAside } from './nothing-set-aside.js';
import { readTableFile, type TableFile } from './read-table-file.js';
import type { TableSettings } from './table-settings.js';

/**
 * Reads a table of CPP targets: each row counts, or the table is refused.
 *
 * @throws Problem where a row cannot be used, with its file and line
 */
export async function readTargets(file: ExportFile, settings: TableSettings): Promise<TableFile<TargetRow>> {
  const table = await readTableFile(file, TARGET_TABLE, settings);
  refuseSetAside(table, 'a target');
  return table;
}

const startOf = ({ from }: TargetRow): number => from ?? Number.NEGATIVE_INFINITY;

const endOf = ({ until }: TargetRow): number => until ?? Number.POSITIVE_INFINITY;

const saySame = (a: TargetRow, b: TargetRow): boolean =>
  a.cppBelowMmHg === b.cppBelowMmHg && a.until === b.until;

/**
 * The rows of each patient by the time from which they hold; of two that say the same the first.
 *
 * @throws Problem that names both lines where two rows of one patient and time say different things, or one begins
 *   before the end that another gives
 */
export function targetsByPatient(rows: readonly TargetRow[]): Map<string, TargetRow[]> {
  const byPatient = new Map<string, TargetRow[]>();
  for (const row of rows) {
    const mine = byPatient.get(row.patient) ?? [];
    byPatient.set(row.patient, mine);
    const other = mine.find((one) => startOf(one) === startOf(row));
    if (!other) mine.push(row);
    else if (!saySame(other, row)) throw contradiction(other, row);
  }
  for (const mine of byPatient.values()) {
    mine.sort((a, b) => startOf(a) - startOf(b));
    mine.forEach((row, i) => {
      const next = mine[i + 1];
      if (next && row.until !== null && startOf(next) < endOf(row)) throw overlap(row, next);
    });
  }
  return byPatient;
}

const said = ({ cppBelowMmHg }: TargetRow): string => `${Number(cppBelowMmHg.toFixed(1))} mmHg`;

const elsewhere = (first: TargetRow, second: TargetRow): string =>
  first.file === second.file ? `line ${second.line}` : `line ${second.line} of ${second.file}`;

const overlap = (first: TargetRow, second: TargetRow): Problem =>
  new Problem(
    `the target of patient "${shorten(first.patient)}" here ends after the one on ${elsewhere(first, second)} begins, so nobody can say which holds`,
    'End the first where the second begins, or leave its end blank: it then holds until the next one.',
    { file: first.file, line: first.line },
  );

function contradiction(first: TargetRow, second: TargetRow): Problem {
  const other = elsewhere(first, second);
  return new Problem(
    `${said(first)} here and ${said(second)} on ${other} are targets of patient "${shorten(first.patient)}" from the same time on`,
    'Only one can hold: take out the other, or change its time.',
    { file: first.file, line: first.line },
  );
}
