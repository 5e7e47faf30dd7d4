import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { csvwOf } from '../../../src/report/tables/csvw.js';
import { featureTable } from '../../../src/report/tables/feature-tables.js';
import { parquetOf } from '../../../src/report/tables/parquet.js';
import { studyDictionary } from '../../../src/report/tables/study-dictionary.js';
import { type TidyTable, tidyCsv } from '../../../src/report/tables/tidy-table.js';
import { HOUR_MS } from '../../../src/summarize/hour.js';
import type { BurdenFeatures } from '../../../src/summarize/study/burden-features.js';
import { featureRowsOf } from '../../../src/summarize/study/feature-rows.js';
import { FEATURES } from '../../../src/summarize/study/features.js';
import type { StudyWindows } from '../../../src/summarize/study/study-windows.js';
import { newFolder } from '../../support/cistern.js';
import { type Csvw, readByCsvw } from '../../support/csvw-reader.js';
import { csvwFaults } from '../../support/csvw-rules.js';
import { duckdb, readParquet, sqlText } from '../../support/duckdb.js';
import { T0 } from '../../support/signals.js';

const window = (from: number, to: number, endsBy: 'length' | 'withdrawn') => ({
  start: T0 + from * HOUR_MS,
  end: T0 + to * HOUR_MS,
  endsBy,
});
const WINDOWS: StudyWindows = {
  primary: window(0, 72, 'length'),
  stay: window(0, 80.5, 'withdrawn'),
  days: [
    { ...window(0, 20, 'length'), day: 1 },
    { ...window(20, 44, 'length'), day: 2 },
  ],
  remarks: [],
};
const NO_ICP = { reason: 'the exports hold no ICP' };

/** Each feature is the length of its window in hours, but for whole numbers and one that is missing. */
const computed = (hours: number): BurdenFeatures =>
  Object.fromEntries(
    FEATURES.map(({ key }) => [
      key,
      key === 'prxMean' ? { reason: 'not resolvable at this sampling' } : key === 'icpEpisodes' ? 3 : hours,
    ]),
  );
const ROWS = [
  ...featureRowsOf('007', WINDOWS, (found) =>
    found.map(({ start, end }) => computed((end - start) / HOUR_MS)),
  ),
  ...featureRowsOf('=8', { primary: NO_ICP, stay: NO_ICP, days: NO_ICP, remarks: [] }, () => []),
];
const { long, wide } = featureTable(ROWS);
const ALL = [wide, long, studyDictionary([wide, long])];
const pick = ({ rows }: TidyTable, keys: readonly string[]) => rows.map((row) => keys.map((key) => row[key]));

describe('tables of features', () => {
  it('have a row a patient and window, in hours since the start of monitoring', () => {
    const keys = ['patient', 'windowId', 'window', 'day', 'startHours', 'endHours', 'endsBy', 'windowReason'];
    expect(pick(wide, keys)).toEqual([
      ['007', 'primary', 'primary', null, 0, 72, 'length', null],
      ['007', 'stay', 'stay', null, 0, 80.5, 'withdrawn', null],
      ['007', 'day-1', 'day', 1, 0, 20, 'length', null],
      ['007', 'day-2', 'day', 2, 20, 44, 'length', null],
      ['=8', 'primary', 'primary', null, null, null, null, 'the exports hold no ICP'],
      ['=8', 'stay', 'stay', null, null, null, null, 'the exports hold no ICP'],
      ['=8', 'days', 'day', null, null, null, null, 'the exports hold no ICP'],
    ]);
  });

  it('have a reason beside each feature that is missing, and none beside one that is there', () => {
    const of = ['icpMeanMmHg', 'icpMeanMmHgReason', 'prxMean', 'prxMeanReason'];
    expect(pick(wide, of)[1]).toEqual([80.5, null, null, 'not resolvable at this sampling']);
    expect(pick(wide, of)[5]).toEqual([null, NO_ICP.reason, null, NO_ICP.reason]);
    for (const { value, reason } of long.rows) expect(value === null).toBe(typeof reason === 'string');
  });

  it('hold the same in the long and the wide form', () => {
    expect(long.rows.length).toBe(ROWS.length * FEATURES.length);
    const byKey = new Map(wide.rows.map((row) => [`${row.patient} ${row.windowId}`, row]));
    for (const { patient, windowId, feature, value, reason, unit } of long.rows) {
      const row = byKey.get(`${patient} ${windowId}`);
      expect([row?.[String(feature)], row?.[`${feature}Reason`]]).toEqual([value, reason]);
      expect(wide.columns.find(({ name }) => name === feature)?.unit).toBe(unit);
    }
  });

  it('refuse rows of other features', () => {
    const [first] = ROWS;
    const bare = 'reason' in first.window ? first.window : { ...first.window, features: {} };
    expect(() => featureTable([{ ...first, window: bare }])).toThrow(
      'The feature icpMonitoredHours of 007 was not computed',
    );
  });

  it('are described column by column, with definition, source and sampling', () => {
    const [, , { columns, rows }] = ALL;
    expect(columns.map(({ name }) => name)).toEqual(
      'table tableSays column title type unit says definition source samplingSeconds'.split(' '),
    );
    const said = rows.filter(({ table }) => table === 'features');
    expect(said.map(({ column }) => column)).toEqual(wide.columns.map(({ name }) => name));
    for (const { key, title, unit, definition, source, coarsestSeconds } of FEATURES) {
      const type = key === 'icpEpisodes' ? 'int' : 'double';
      expect(said.find(({ column }) => column === key)).toMatchObject({
        title,
        type,
        unit,
        definition,
        source,
        samplingSeconds: coarsestSeconds,
      });
    }
  });

  it('are read by their CSVW metadata', () => {
    const metadata = JSON.parse(JSON.stringify(csvwOf(ALL))) as Csvw;
    expect(csvwFaults(metadata as never)).toEqual([]);
    expect(metadata.tables.map(({ url }) => url)).toEqual([
      'features.csv',
      'features-long.csv',
      'dictionary.csv',
    ]);
    for (const table of ALL) {
      const read = readByCsvw(metadata, `${table.name}.csv`, tidyCsv(table));
      expect(read.length).toBe(table.rows.length);
    }
    const [, stay] = readByCsvw(metadata, 'features.csv', tidyCsv(wide));
    expect(stay.slice(0, 9)).toEqual(['007', 'stay', 'stay', null, 0, 80.5, 'withdrawn', null, 80.5]);
  });

  it('hold the same as CSV and as Parquet, as DuckDB reads both', async () => {
    const folder = newFolder();
    const connection = await duckdb();
    const metadata = JSON.parse(JSON.stringify(csvwOf(ALL))) as Csvw;
    const SQL_TYPES: Readonly<Record<string, string>> = {
      string: 'VARCHAR',
      double: 'DOUBLE',
      integer: 'BIGINT',
    };
    for (const [i, table] of ALL.entries()) {
      const csv = join(folder, `${table.name}.csv`);
      writeFileSync(csv, tidyCsv(table));
      const columns = metadata.tables[i].tableSchema.columns
        .map(({ name, datatype }) => `${sqlText(name)}: ${sqlText(SQL_TYPES[datatype])}`)
        .join(', ');
      const read = await connection.runAndReadAll(
        `select * from read_csv(${sqlText(csv)}, header = true, delim = ',', quote = '"', escape = '"', auto_detect = false, columns = {${columns}})`,
      );
      const parquet = await readParquet(parquetOf(table));
      expect(parquet.rows.length).toBe(table.rows.length);
      // The one text of these tables that a spreadsheet would run.
      const neutral = (cell: unknown) => (cell === '=8' ? "'=8" : cell);
      expect(read.getRowsJS()).toEqual(parquet.rows.map((row) => row.map(neutral)));
    }
  });
});
