import { Problem, shorten } from '../../recording/problem.js';
import type { ExportFile } from '../find-exports.js';
import { refuseSetAside } from './nothing-set-aside.js';
import { type DecisionRow, OVERRIDES } from './overrides.js';
import { readTableFile, type TableFile } from './read-table-file.js';
import type { TableSettings } from './table-settings.js';

/**
 * Reads a reviewed copy of a table of marks. What a person decided counts or is refused: no decision is set aside.
 *
 * @throws Problem where a row that holds a decision cannot be used, with its file and line
 */
export async function readOverrides(
  file: ExportFile,
  settings: TableSettings,
): Promise<TableFile<DecisionRow>> {
  const table = await readTableFile(file, OVERRIDES, settings);
  refuseSetAside(table, 'a decision');
  return { ...table, warnings: [...table.warnings, ...undecided(table)] };
}

const undecided = ({ rows, rowsRead }: TableFile<DecisionRow>): string[] =>
  rows.length === 0 && rowsRead > 0 ? ['No row holds a decision, so that nothing changes.'] : [];

const contradict = (a: DecisionRow, b: DecisionRow): boolean =>
  a.decision !== b.decision || a.direction !== b.direction;

/** Stretches that only meet do not contradict each other. */
const overlap = (a: DecisionRow, b: DecisionRow): boolean =>
  (a.start < b.end && b.start < a.end) || (a.start === b.start && a.end === b.end);

/**
 * Refuses decisions on the same time of one channel that say different things: nobody can tell which is meant.
 *
 * @throws Problem that names both lines
 */
export function refuseContradictions(rows: readonly DecisionRow[]): void {
  const byChannel = new Map<string, DecisionRow[]>();
  for (const row of rows) {
    const key = `${row.channel} ${row.patient}`;
    const known = byChannel.get(key);
    if (known) known.push(row);
    else byChannel.set(key, [row]);
  }
  for (const all of byChannel.values()) {
    const ordered = all.sort((a, b) => a.start - b.start || a.end - b.end);
    for (const [i, row] of ordered.entries()) {
      for (let j = i + 1; j < ordered.length && ordered[j].start <= row.end; j++) {
        const next = ordered[j];
        if (overlap(row, next) && contradict(row, next)) throw contradiction(row, next);
      }
    }
  }
}

const said = ({ decision, direction }: DecisionRow): string =>
  direction === null ? decision : `${decision}, ${direction}`;

function contradiction(a: DecisionRow, b: DecisionRow): Problem {
  const [first, second] = a.file === b.file && b.line < a.line ? [b, a] : [a, b];
  const other = first.file === second.file ? `line ${second.line}` : `line ${second.line} of ${second.file}`;
  return new Problem(
    `"${said(first)}" here and "${said(second)}" on ${other} are about the same time of ${first.channel} of patient "${shorten(first.patient)}"`,
    'Only one can hold: take out the other, or change its start or end.',
    { file: first.file, line: first.line },
  );
}
