import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnCells, type ReadCell } from '../../../src/report/tables/column-cells.js';
import { safeText } from '../../../src/report/tables/csv.js';
import { csvwOf } from '../../../src/report/tables/csvw.js';
import { type TidyTable, tidyCsv } from '../../../src/report/tables/tidy-table.js';
import { type Csvw, readByCsvw } from '../../support/csvw-reader.js';
import { csvwFaults } from '../../support/csvw-rules.js';
import { holds } from '../../support/properties.js';
import { randomTables } from '../../support/random-tables.js';

const TABLE: TidyTable = {
  name: 'nights',
  says: 'A row a night',
  key: ['patient', 'night'],
  columns: [
    { name: 'patient', unit: '', says: 'Number of the patient', type: 'string' },
    { name: 'night', unit: '', says: 'Which one', type: 'int' },
    {
      name: 'doseMmHgHours',
      title: 'Dose above 22 mmHg',
      unit: 'mm[Hg].h',
      says: 'Dose.',
      type: 'double',
      definition: 'Integral of max(0, ICP - 22 mmHg).',
      source: 'own convention',
      samplingSeconds: 300,
    },
    { name: 'has drain', unit: '', says: 'Whether a drain is there' },
  ],
  rows: [
    { patient: '#7', night: 1, doseMmHgHours: 1e-7, 'has drain': true },
    { patient: '007', night: 2, doseMmHgHours: null, 'has drain': null },
    { patient: '=1+1', night: 1, doseMmHgHours: 1e21, 'has drain': false },
  ],
};
const asRead = (tables: readonly TidyTable[]): Csvw => JSON.parse(JSON.stringify(csvwOf(tables))) as Csvw;
const rowsOf = (table: TidyTable): unknown[][] =>
  readByCsvw(asRead([table]), `${encodeURIComponent(table.name)}.csv`, tidyCsv(table));

/** What CSV can give back: text as it is neutralised, and 0 for -0. */
const throughCsv = (cell: ReadCell): ReadCell =>
  typeof cell === 'string' ? safeText(cell) : Object.is(cell, -0) ? 0 : cell;

type Loose = Record<string, unknown>;
/** Faults of the metadata of TABLE once something in them is broken. */
const faultsWith = (harm: (metadata: Loose, table: Loose, column: Loose) => void): string[] => {
  const metadata = JSON.parse(JSON.stringify(csvwOf([TABLE]))) as Loose;
  const table = (metadata.tables as Loose[])[0];
  harm(metadata, table, ((table.tableSchema as Loose).columns as Loose[])[0]);
  return csvwFaults(metadata);
};

describe('CSVW metadata of tables', () => {
  it('are as the recommendation asks', () => {
    expect(
      csvwFaults(asRead([TABLE, { ...TABLE, name: 'what else, 50 %', key: undefined }]) as never),
    ).toEqual([]);
  });

  it('would be found wrong', () => {
    expect(faultsWith(() => {})).toEqual([]);
    expect(faultsWith((group) => delete group['@context'])).toEqual(['@context']);
    expect(faultsWith((group) => Object.assign(group, { tables: [] }))).toEqual(['group: tables']);
    expect(faultsWith((group) => Object.assign(group, { about: 'x' }))).toEqual(['group: no property about']);
    expect(faultsWith((group) => Object.assign(group, { dialect: { trim: 'all' } }))).toEqual([
      'dialect: trim',
    ]);
    expect(faultsWith((_, table) => delete table.url)).toEqual(['table 1: url']);
    expect(faultsWith((_, table) => Object.assign(table, { 'x:y': 'z' }))).toEqual([
      'table 1: no property x:y',
    ]);
    expect(faultsWith((_, __, column) => Object.assign(column, { name: '_patient' }))).toEqual([
      'table 1, column 1: name',
      'table 1: primaryKey patient',
    ]);
    expect(faultsWith((_, __, column) => Object.assign(column, { datatype: 'text' }))).toEqual([
      'table 1, column 1: datatype',
    ]);
    expect(faultsWith((_, __, column) => Object.assign(column, { name: 'night' }))).toContain(
      'table 1: two columns of one name',
    );
  });

  it('tell type, unit, meaning, source and sampling of a column', () => {
    const { columns, primaryKey } = asRead([TABLE]).tables[0].tableSchema;
    expect(primaryKey).toEqual(['patient', 'night']);
    expect(columns[2]).toEqual({
      name: 'doseMmHgHours',
      titles: ['doseMmHgHours', 'Dose above 22 mmHg'],
      datatype: 'double',
      null: '',
      'dc:description': 'Dose. Integral of max(0, ICP - 22 mmHg).',
      'schema:unitText': 'mm[Hg].h',
      'dc:source': 'own convention',
      'rdfs:comment': 'Needs a sample every 300 s or more often.',
    });
    expect(columns[3]).toMatchObject({ name: 'has%20drain', titles: ['has drain'], datatype: 'boolean' });
    expect(columns[0]).toMatchObject({ required: true });
  });

  it('are enough to read the CSV, text that looks like numbers, comments or formulas included', () => {
    expect(rowsOf(TABLE)).toEqual([
      ['#7', 1, 1e-7, true],
      ['007', 2, null, null],
      ["'=1+1", 1, 1e21, false],
    ]);
  });

  it('find a file that is not as they say', () => {
    const metadata = asRead([TABLE]);
    const read = (csv: string) => () => readByCsvw(metadata, 'nights.csv', csv);
    const head = 'patient,night,doseMmHgHours,has drain\r\n';
    expect(read(`${head}1,1,2,true\r\n`)()).toEqual([['1', 1, 2, true]]);
    expect(read(`${head}1,1,2,yes\r\n`)).toThrow('is no boolean');
    expect(read(`${head}1,1.5,2,true\r\n`)).toThrow('is no integer');
    expect(read(`${head}1,1,"2,5",true\r\n`)).toThrow('is no double');
    expect(read(`${head},1,2,true\r\n`)).toThrow('patient is required');
    expect(read(`${head}1,1,2,true\r\n1,1,3,true\r\n`)).toThrow('two rows have one key');
    expect(read(`bed,night,doseMmHgHours,has drain\r\n`)).toThrow('is no title of column 1');
  });

  it('give back any cells', () => {
    holds(
      fc.property(randomTables, (table) => {
        expect(csvwFaults(asRead([table]) as never)).toEqual([]);
        const cells = columnCells(table).map(({ cells: of }) => of.map(throughCsv));
        expect(rowsOf(table)).toEqual(table.rows.map((_, i) => cells.map((of) => of[i])));
      }),
      200,
    );
  });
});
