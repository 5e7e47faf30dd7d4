import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnCells } from '../../../src/report/tables/column-cells.js';
import { parquetOf } from '../../../src/report/tables/parquet.js';
import type { TidyTable } from '../../../src/report/tables/tidy-table.js';
import { readParquet } from '../../support/duckdb.js';
import { holdsLater } from '../../support/properties.js';
import { randomTables } from '../../support/random-tables.js';

const TABLE: TidyTable = {
  name: 'nights',
  says: 'A row a night',
  key: ['patient'],
  columns: [
    { name: 'patient', unit: '', says: 'Number of the patient', type: 'string' },
    {
      name: 'doseMmHgHours',
      title: 'Dose',
      unit: 'mm[Hg].h',
      says: 'Dose above 22 mmHg',
      type: 'double',
      definition: 'Integral of max(0, ICP - 22 mmHg).',
      source: 'own convention',
      samplingSeconds: 300,
    },
    { name: 'episodes', unit: '{episodes}', says: 'Their number', type: 'int' },
    { name: 'hasDrain', unit: '', says: 'Whether a drain is there', type: 'boolean' },
    { name: 'reason', unit: '', says: 'Why nothing is there' },
  ],
  rows: [
    { patient: '007', doseMmHgHours: 0.1 + 0.2, episodes: 3, hasDrain: true, reason: null },
    { patient: '=1+1', doseMmHgHours: null, episodes: null, hasDrain: null, reason: 'no ICP in this time' },
    { patient: 'größe \u{1f9e0}', doseMmHgHours: -0, episodes: 0, hasDrain: false, reason: '' },
    {
      patient: '4',
      doseMmHgHours: 0,
      episodes: Number.MAX_SAFE_INTEGER,
      hasDrain: undefined,
      reason: undefined,
    },
  ],
};

/** A column of a table alone. */
const alone = (cell: unknown, type: 'double' | 'int' | 'string' | 'boolean'): TidyTable => ({
  name: 't',
  says: 't',
  columns: [{ name: 'a', unit: '', says: 'a', type }],
  rows: [{ a: cell as number }],
});

describe('tables as Parquet', () => {
  it('are read by DuckDB with the same values, nulls and types', async () => {
    const { names, types, rows } = await readParquet(parquetOf(TABLE));
    expect(names).toEqual(['patient', 'doseMmHgHours', 'episodes', 'hasDrain', 'reason']);
    expect(types).toEqual(['VARCHAR', 'DOUBLE', 'BIGINT', 'BOOLEAN', 'VARCHAR']);
    expect(rows).toEqual([
      ['007', 0.30000000000000004, 3n, true, null],
      ['=1+1', null, null, null, 'no ICP in this time'],
      ['größe \u{1f9e0}', -0, 0n, false, null],
      ['4', 0, BigInt(Number.MAX_SAFE_INTEGER), null, null],
    ]);
  });

  it('say what the table and each column are', async () => {
    const { metadata, createdBy } = await readParquet(parquetOf(TABLE));
    expect(metadata.get('table')).toBe('nights');
    expect(metadata.get('description')).toBe('A row a night');
    expect(metadata.get('units')).toBe('UCUM');
    expect(JSON.parse(metadata.get('key') ?? '')).toEqual(['patient']);
    const columns = JSON.parse(metadata.get('columns') ?? '') as Record<string, unknown>[];
    expect(columns.map(({ column }) => column)).toEqual(TABLE.columns.map(({ name }) => name));
    expect(columns[1]).toEqual({
      column: 'doseMmHgHours',
      title: 'Dose',
      type: 'double',
      unit: 'mm[Hg].h',
      says: 'Dose above 22 mmHg',
      definition: 'Integral of max(0, ICP - 22 mmHg).',
      source: 'own convention',
      samplingSeconds: 300,
    });
    // No version and no date in it: the same table would have other bytes after an update.
    expect(createdBy).toBe('cistern');
  });

  it('have the same bytes each time', () => {
    expect(Buffer.from(parquetOf(TABLE)).equals(parquetOf(structuredClone(TABLE)))).toBe(true);
  });

  it('keep the types of columns where there is no row, and where all cells are missing', async () => {
    const none = await readParquet(parquetOf({ ...TABLE, rows: [] }));
    expect(none.rows).toEqual([]);
    expect(none.types).toEqual(['VARCHAR', 'DOUBLE', 'BIGINT', 'BOOLEAN', 'VARCHAR']);
    const blank = await readParquet(parquetOf({ ...TABLE, rows: [{ patient: '1' }] }));
    expect(blank.types).toEqual(none.types);
    expect(blank.rows).toEqual([['1', null, null, null, null]]);
  });

  it('hold more rows than one group and one page', async () => {
    const count = 150_000;
    const rows = Array.from({ length: count }, (_, i) => ({ a: i % 7 === 0 ? null : i / 3 }));
    const read = await readParquet(parquetOf({ ...alone(1, 'double'), rows }));
    expect(read.rows.length).toBe(count);
    expect(read.rows.every(([cell], i) => cell === rows[i].a)).toBe(true);
  });

  it('tell 0 from -0 where numbers come again and again', async () => {
    const rows = Array.from({ length: 500 }, (_, i) => ({ a: i % 2 === 0 ? 0 : -0 }));
    const { rows: read } = await readParquet(parquetOf({ ...alone(1, 'double'), rows }));
    expect(read.filter(([cell]) => Object.is(cell, -0)).length).toBe(250);
  });

  it('refuse what no cell of the column can be', () => {
    expect(() => parquetOf(alone(Number.NaN, 'double'))).toThrow('t.a is double, and a cell of it is NaN');
    expect(() => parquetOf(alone(Number.POSITIVE_INFINITY, 'double'))).toThrow('Infinity');
    expect(() => parquetOf(alone(1.5, 'int'))).toThrow('t.a is int, and a cell of it is 1.5');
    expect(() => parquetOf(alone('x', 'double'))).toThrow('a cell of it is x');
    expect(() => parquetOf(alone(1, 'boolean'))).toThrow('a cell of it is 1');
    expect(() => parquetOf({ ...TABLE, key: ['hasDrain'] })).toThrow('has no hasDrain');
    expect(() => parquetOf({ ...TABLE, rows: [...TABLE.rows, TABLE.rows[0]] })).toThrow(
      'have the key ["007"]',
    );
    expect(() => parquetOf({ ...TABLE, key: ['bed'] })).toThrow('names no column of it: bed');
    const [first] = TABLE.columns;
    expect(() => parquetOf({ ...TABLE, columns: [first, first] })).toThrow('have one name');
  });

  it('give back any cells', async () => {
    await holdsLater(
      fc.asyncProperty(randomTables, async (table) => {
        const { names, rows } = await readParquet(parquetOf(table));
        const columns = columnCells(table);
        expect(names).toEqual(table.columns.map(({ name }) => name));
        const cells = columns.map(({ type, cells: of }) =>
          of.map((cell) => (type === 'int' && cell !== null ? BigInt(cell) : cell)),
        );
        expect(rows).toEqual(table.rows.map((_, i) => cells.map((of) => of[i])));
      }),
    );
  });
});
