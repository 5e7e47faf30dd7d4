import { Buffer } from 'node:buffer';
import { expect } from 'vitest';
import type { ExportFile } from '../../../src/ingest/find-exports.js';
import { rowsIn } from '../../../src/ingest/rows/set-aside.js';
import { DEFAULT_MISSING } from '../../../src/ingest/settings.js';
import { readTable, type TableReading } from '../../../src/ingest/tables/read-table.js';
import type { TableKind } from '../../../src/ingest/tables/recognise-table.js';
import type { TableSettings } from '../../../src/ingest/tables/table-settings.js';
import { problemOf } from '../support.js';

/** A file in memory. */
export const fileOf = (content: string | Uint8Array, name = 'a.csv'): ExportFile => ({
  path: name,
  name,
  open: async function* () {
    yield Buffer.from(content);
  },
});

export const tableSettings = (more: Partial<TableSettings> = {}): TableSettings => ({
  zone: 'UTC',
  missing: DEFAULT_MISSING,
  ...more,
});

/** Reads a table from memory and checks its account. */
export async function read<K extends TableKind>(
  kind: K,
  content: string | Uint8Array,
  more: Partial<TableSettings> = {},
): Promise<TableReading<K>> {
  const table = await readTable(kind, fileOf(content), tableSettings(more));
  expect(table.rows.length + rowsIn(table.setAside)).toBe(table.rowsRead);
  for (const { file, line, reason, row } of table.setAside) {
    expect(file).toBe('a.csv');
    expect(line).toBeGreaterThan(1);
    expect(reason).toMatch(/^[^\n\r]+$/);
    expect(row).toBeDefined();
  }
  return table;
}

/** Why a table is refused. */
export const whyRefused = (
  kind: TableKind,
  content: string | Uint8Array,
  more: Partial<TableSettings> = {},
): Promise<string> => problemOf(() => readTable(kind, fileOf(content), tableSettings(more)));

/** Line, kind and reason of each row that was set aside. */
export const asides = ({ setAside }: Pick<TableReading, 'setAside'>): [number, string, string][] =>
  setAside.map(({ line, kind, reason }) => [line, kind, reason]);

/** An instant as ISO 8601 in UTC, to the second. */
export const iso = (utcMs: number | null | undefined): string | null =>
  utcMs === null || utcMs === undefined ? null : new Date(utcMs).toISOString().replace('.000Z', 'Z');
