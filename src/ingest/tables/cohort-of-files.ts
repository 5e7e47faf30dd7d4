import { shorten } from '../../recording/problem.js';
import type { RowSetAside } from '../rows/set-aside.js';
import type { CohortRow } from './cohort.js';
import { RowsSeen } from './rows-seen.js';

/** The patients of a cohort, each once. */
export interface Cohort {
  readonly rows: ReadonlyMap<string, CohortRow>;
  /** Rows that other files hold too, or contradict. */
  readonly setAside: readonly RowSetAside[];
}

const FIX = 'A patient has one row: remove or correct the others.';

/**
 * The patients of all files of a cohort. A row that two files hold alike counts once; where they contradict each other,
 * nobody can say which is right, and the patient has none.
 *
 * @param files rows by file, each patient once in a file
 */
export function cohortOfFiles(files: readonly (readonly CohortRow[])[]): Cohort {
  const seen = new RowsSeen<CohortRow>();
  const setAside: RowSetAside[] = [];
  const byId = new Map<string, CohortRow[]>();
  for (const file of files) {
    const { rows, setAside: repeats } = seen.take(file);
    setAside.push(...repeats);
    for (const row of rows) byId.set(row.id, [...(byId.get(row.id) ?? []), row]);
  }
  const rows = new Map<string, CohortRow>();
  for (const [id, all] of byId) {
    if (all.length === 1) rows.set(id, all[0]);
    else {
      for (const { file, line } of all) {
        const others = all
          .filter((other) => other.file !== file)
          .map((other) => `line ${other.line} of ${other.file}`);
        const reason = `patient "${shorten(id)}" stands on ${others.join(' and ')} with other cells`;
        setAside.push({ file, line, rows: 1, kind: 'conflict', reason, fix: FIX });
      }
    }
  }
  return { rows, setAside };
}
