import type { RowSetAside } from '../ingest/rows/set-aside.js';
import type { SetAsideInspection } from '../report/inspect/inspection.js';

const MOST_SET_ASIDE = 5;

/** The first reasons, rows in a row that share one together. */
export function firstSetAside(setAside: readonly RowSetAside[]): SetAsideInspection[] {
  const shown: { line: number; lastLine: number; rows: number; reason: string; row: string }[] = [];
  for (const { line, rows, reason, row } of setAside) {
    const before = shown.at(-1);
    if (before?.reason === reason) {
      before.rows += rows;
      before.lastLine = line;
    } else if (shown.length === MOST_SET_ASIDE) break;
    else shown.push({ line, lastLine: line, rows, reason, row: row ?? '' });
  }
  return shown;
}
