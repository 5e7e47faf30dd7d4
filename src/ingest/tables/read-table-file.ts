import { Problem } from '../../recording/problem.js';
import { ZoneClock } from '../../recording/zone.js';
import type { ExportFile } from '../find-exports.js';
import type { RowSetAside } from '../rows/set-aside.js';
import { fetchRows } from '../text/fetch-rows.js';
import { findLayout, type Layout } from '../text/layout.js';
import type { CsvRecord, Delimiter } from '../text/parse-records.js';
import { fileBytes } from '../text/read-bytes.js';
import { readRecords, type TextIdentity } from '../text/read-records.js';
import type { Description, RowPlace } from './describe.js';
import { tableScore } from './name-columns.js';
import type { TableDefinition } from './table-definition.js';
import { type TableRows, tableRows } from './table-rows.js';
import type { TableSettings } from './table-settings.js';

/** Rows that are counted alike. */
export interface Count {
  readonly what: string;
  readonly rows: number;
}

/** A log or table as it was read. Rows read = `rows.length` + rows passed over + rows set aside. */
export interface TableFile<R> extends TextIdentity, TableRows<R> {
  readonly file: string;
  readonly delimiter: Delimiter;
  /** Lines with text above the header. */
  readonly linesAbove: readonly number[];
  /** The first and the last time that its rows name, milliseconds UTC; null where they name none. */
  readonly span: { readonly firstUtcMs: number; readonly lastUtcMs: number } | null;
  /** The most frequent first. */
  readonly counts: readonly Count[];
}

/**
 * Reads one log or table, with the row of each entry that was set aside as it came.
 *
 * @throws Problem where the file as a whole cannot be used
 */
export async function readTableFile<D extends Description, R extends RowPlace>(
  file: ExportFile,
  definition: TableDefinition<D, R>,
  settings: TableSettings,
): Promise<TableFile<R>> {
  const open = file.open ?? fileBytes(file.path);
  try {
    let layout: Layout | null = null;
    const records: CsvRecord[] = [];
    const identity = await readRecords(open, (head) => {
      const found = findLayout(head, (cells) => tableScore(cells, definition, settings));
      layout = found;
      const visit = (record: CsvRecord): boolean => {
        if (record.line >= found.dataLine) records.push(record);
        return true;
      };
      return { delimiter: found.delimiter, visit };
    });
    const seen = layout as Layout | null;
    if (!identity || !seen || seen.headers.length === 0) {
      throw new Problem('the file is empty', 'Export it again.');
    }
    const table = tableRows(file.name, seen, records, definition, settings, new ZoneClock(settings.zone));
    return {
      ...identity,
      ...table,
      setAside: await withRowTexts(file, table.setAside, seen.delimiter),
      file: file.name,
      delimiter: seen.delimiter,
      linesAbove: seen.preamble.map(({ line }) => line),
      span: spanOf(table.rows, definition.instants),
      counts: countsOf(table.rows, definition.countedAs),
    };
  } catch (error) {
    throw error instanceof Problem ? error.at({ file: file.name }) : error;
  }
}

/** Adds to each entry what stands in its line of the file. */
export async function withRowTexts(
  file: ExportFile,
  setAside: readonly RowSetAside[],
  delimiter: Delimiter,
): Promise<RowSetAside[]> {
  if (setAside.length === 0) return [];
  const open = file.open ?? fileBytes(file.path);
  const texts = await fetchRows(open, new Set(setAside.map(({ line }) => line)), delimiter);
  return setAside.map((entry) => ({ ...entry, row: texts.get(entry.line) }));
}

function spanOf<R>(
  rows: readonly R[],
  instants: (row: R) => readonly (number | null | undefined)[],
): TableFile<R>['span'] {
  let firstUtcMs = Number.POSITIVE_INFINITY;
  let lastUtcMs = Number.NEGATIVE_INFINITY;
  for (const row of rows) {
    for (const utcMs of instants(row)) {
      if (utcMs === null || utcMs === undefined) continue;
      firstUtcMs = Math.min(firstUtcMs, utcMs);
      lastUtcMs = Math.max(lastUtcMs, utcMs);
    }
  }
  return firstUtcMs > lastUtcMs ? null : { firstUtcMs, lastUtcMs };
}

function countsOf<R>(rows: readonly R[], countedAs: (row: R) => string): Count[] {
  const counts = new Map<string, number>();
  for (const row of rows) counts.set(countedAs(row), (counts.get(countedAs(row)) ?? 0) + 1);
  return [...counts]
    .map(([what, n]) => ({ what, rows: n }))
    .sort((a, b) => b.rows - a.rows || (a.what < b.what ? -1 : 1));
}
