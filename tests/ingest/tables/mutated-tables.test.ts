import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { rowsIn } from '../../../src/ingest/rows/set-aside.js';
import { readTable, type TableReading } from '../../../src/ingest/tables/read-table.js';
import type { TableKind } from '../../../src/ingest/tables/recognise-table.js';
import { Problem } from '../../../src/recording/problem.js';
import { seeded } from '../support.js';
import { fileOf, tableSettings } from './support.js';

const minutes = (n: number, row: (i: number) => string): string =>
  Array.from({ length: n }, (_, i) => `${row(i)}\n`).join('');
const SEEDS: readonly [TableKind, string][] = [
  [
    'alarms',
    `Bed,Onset,Parameter,Limit (mmHg),Priority,Acknowledged\n${minutes(20, (i) => `${i % 4},2031-10-26 0${i % 6}:${10 + i},ICP high,22,high,`)}`,
  ],
  [
    'care',
    `Patient;Start;End;Event;Value\r\n${minutes(20, (i) => `${i % 4};13.02.2031 02:${10 + i};;HOB;3${i % 10}\r`)}`,
  ],
  [
    'occupancy',
    `Patient\tBed\tFrom\tTo\n${minutes(12, (i) => `${i}\t${i % 3}\t2031-02-${10 + i} 08:00\t2031-02-${11 + i} 08:00`)}`,
  ],
  [
    'cohort',
    `ID,Age,GCS,GCS motor,CT,Pupils,Injury,Death,GOSE,Assessed\n${minutes(20, (i) => `${i},${20 + i},7,4,normal,both,2031-02-${10 + (i % 9)},no,${1 + (i % 8)},6 months`)}`,
  ],
];
const TOKENS = [
  ...[
    '"',
    ',',
    ';',
    '\n',
    '\r\n',
    '\n\n',
    '\u0000',
    '\ufffd',
    '\u00e9',
    '-',
    '7',
    '999',
    '--',
    'none',
    'yes',
  ],
  ...[
    '2031-02-29 02:10',
    '2031-03-30 02:30',
    '2031-10-26 02:30',
    '13.02.31',
    '02:10',
    '12/12/2031 02:10',
    '03/04/2031 02:10',
  ],
  ...['Bed,Onset', 'ID', 'Patient', ' ', '\u2028', '__proto__', 'constructor', 'EVD open', '> 22 kPa', 'T'],
];
const position = fc.noBias(fc.integer({ min: 0, max: 999 })).map((share) => share / 1000);
type Change = (text: string) => string;
const changes = fc.array(
  fc.oneof(
    fc.tuple(position, fc.constantFrom(...TOKENS)).map(
      ([p, token]): Change =>
        (text) => {
          const i = Math.floor(p * text.length);
          return text.slice(0, i) + token + text.slice(i);
        },
    ),
    fc.tuple(position, fc.integer({ min: 1, max: 80 })).map(
      ([p, n]): Change =>
        (text) => {
          const i = Math.floor(p * text.length);
          return text.slice(0, i) + text.slice(i + n);
        },
    ),
    fc.tuple(position, position, position).map(
      ([a, b, c]): Change =>
        (text) => {
          const [from, to, at] = [Math.min(a, b), Math.max(a, b), c].map((p) => Math.floor(p * text.length));
          return text.slice(0, at) + text.slice(from, to) + text.slice(at);
        },
    ),
    position.map(
      (p): Change =>
        (text) =>
          text.slice(0, Math.floor(p * text.length)),
    ),
  ),
  { minLength: 1, maxLength: 3 },
);

/** Lines that hold something besides delimiters, behind the header; null where that is more than counting. */
function rowsOf(text: string, delimiter: string): number | null {
  if (text.includes('\u0000') || /"|\r(?!\r*\n)/.test(text)) return null;
  const lines = text
    .split('\n')
    .filter((line) => line.replaceAll(delimiter, '').replace('\ufeff', '').trim() !== '');
  return Math.max(0, lines.length - 1);
}

test('1,500 mutated tables end in rows that add up or in a Problem, never in another error', async () => {
  let tables = 0;
  let problems = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom(...SEEDS),
      changes,
      fc.constantFrom('UTC', 'Europe/Oslo'),
      async ([kind, seed], mutations, zone) => {
        const text = mutations.reduce((all, change) => change(all), seed);
        let table: TableReading;
        try {
          table = await readTable(kind, fileOf(Buffer.from(text)), tableSettings({ zone }));
        } catch (error) {
          if (!(error instanceof Problem)) throw error;
          expect(error.message).toMatch(/^a\.csv[^\n\r]*: [^\n\r]+\. [^\n\r]+[.}]$/);
          problems++;
          return;
        }
        tables++;
        expect(table.rows.length + rowsIn(table.setAside)).toBe(table.rowsRead);
        const lines = [...table.rows, ...table.setAside].map(({ line }) => line);
        expect(new Set(lines).size).toBe(lines.length);
        for (const { reason, row } of table.setAside) {
          expect(reason).toMatch(/^[^\n\r]+$/);
          // A stray quote hides the rows behind it from the look-up of rows as they came.
          if (!text.includes('"')) expect(row).toBeDefined();
        }
        const expected = rowsOf(text, table.delimiter);
        // A header that a change has moved down leaves lines above it.
        const isFirst = text.startsWith(seed.slice(0, seed.indexOf('\n')));
        if (expected !== null && isFirst) expect(table.rowsRead).toBe(expected);
      },
    ),
    seeded(1_500),
  );
  expect(tables).toBeGreaterThan(700);
  expect(problems).toBeGreaterThan(150);
}, 120_000);
