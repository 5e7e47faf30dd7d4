import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Ingested } from '../../src/ingest/ingest.js';
import {
  asideOf,
  expectAccount,
  type Files,
  ICP_HEADER,
  ingestFiles,
  rowsSetAside,
  START,
  seeded,
  wall,
} from './support.js';

/** A row of a made-up file, by what should become of it. */
type Bad = 'short' | 'long' | 'again' | 'other';
type Row = { kind: 'new' } | { kind: 'blank' } | { kind: Bad; times: number };
const rowSequence = fc.array(
  fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom<Row>({ kind: 'new' }, { kind: 'blank' }) },
    {
      weight: 2,
      arbitrary: fc.record({
        kind: fc.constantFrom<Bad>('short', 'long', 'again', 'other'),
        times: fc.integer({ min: 1, max: 3 }),
      }),
    },
  ),
  { minLength: 1, maxLength: 30 },
);

/** The text of a file; how many rows it holds, how many have other cells than the header, and all values by second. */
interface MadeUp {
  readonly text: string;
  readonly read: number;
  readonly misfits: number;
  readonly values: readonly (readonly number[])[];
}

function fileOf(rows: readonly Row[]): MadeUp {
  let text = `${ICP_HEADER}${wall(START)},12\n`;
  let read = 1;
  let misfits = 0;
  const values: number[][] = [[12]];
  for (const row of rows) {
    if (row.kind === 'blank') {
      text += '\n';
      continue;
    }
    if (row.kind === 'new') {
      text += `${wall(START + values.length * 1000)},12\n`;
      values.push([12]);
      read++;
      continue;
    }
    const time = wall(START + (values.length - 1) * 1000);
    const cells = { short: time, long: `${time},12,13`, again: `${time},12`, other: `${time},99` }[row.kind];
    text += `${cells}\n`.repeat(row.times);
    read += row.times;
    if (row.kind === 'again' || row.kind === 'other') {
      for (let i = 0; i < row.times; i++) values.at(-1)?.push(row.kind === 'again' ? 12 : 99);
    } else misfits += row.times;
  }
  return { text, read, misfits, values };
}

/** What should come of files that all start at the same second. */
function expectedOf(parts: readonly MadeUp[]): { read: number; used: number; bad: number } {
  let used = 0;
  let bad = parts.reduce((sum, { misfits }) => sum + misfits, 0);
  for (let second = 0; second < Math.max(...parts.map(({ values }) => values.length)); second++) {
    const all = parts.flatMap(({ values }) => values[second] ?? []);
    if (new Set(all).size > 1) bad += all.length;
    else used++;
  }
  const read = parts.reduce((sum, part) => sum + part.read, 0);
  return { read, used: 2 * bad > read ? 0 : used, bad };
}

/** Checks the account, and that each row that was set aside is shown as it stands in its file. */
function expectAllAccounted(outcome: Ingested, parts: readonly MadeUp[], nameOf: (part: number) => string) {
  const { read, used, bad } = expectedOf(parts);
  expectAccount(outcome, { read, used });
  const lines = new Map(parts.map(({ text }, i) => [nameOf(i), text.split('\n')]));
  for (const { file, line, row, reason } of outcome.setAside) {
    expect(line).toBeGreaterThan(1);
    expect([row, row]).toEqual([lines.get(file)?.[line - 1], expect.stringMatching(/./)]);
    expect(reason).not.toBe('');
  }
  if (2 * bad > read) {
    expect(outcome.problem).toContain(`: ${bad} of ${read} rows cannot be used, this one first: `);
    return;
  }
  expect(outcome.problem).toBeNull();
  expect(new Set(outcome.setAside.map(({ file, line }) => `${file} ${line}`)).size).toBe(read - used);
}

describe('the account of rows', () => {
  test('holds for any file: rows read = rows used + rows set aside, each with its file, line and text', async () => {
    await fc.assert(
      fc.asyncProperty(rowSequence, async (rows) => {
        const part = fileOf(rows);
        const [outcome] = await ingestFiles({ 'a.csv': part.text });
        expectAllAccounted(outcome, [part], () => 'a.csv');
      }),
      seeded(300),
    );
  });

  test('holds for any split of a patient into files that repeat and contradict each other', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(rowSequence, { minLength: 1, maxLength: 4 }), async (sequences) => {
        const parts = sequences.map(fileOf);
        const files: Files = Object.fromEntries(parts.map(({ text }, i) => [`${i}.csv`, text]));
        const [outcome] = await ingestFiles(files, { patient: { id: 'p' } });
        expectAllAccounted(outcome, parts, (i) => `${i}.csv`);
      }),
      seeded(150),
    );
  });

  test('counts every row of a patient whose file fails as set aside, also those behind the bad one', async () => {
    await fc.assert(
      fc.asyncProperty(rowSequence, rowSequence, async (before, behind) => {
        const first = fileOf(before);
        const rest = fileOf(behind);
        const bad = '11.02.31 02:00:00,12\n';
        const [outcome] = await ingestFiles({
          'a.csv': first.text + bad + rest.text.slice(ICP_HEADER.length),
        });
        expect(outcome.problem).toBe(
          `a.csv, line ${first.text.split('\n').length}, column "Time": the year in "11.02.31 02:00:00" has two digits, so it may be a day or a month as well. Export the dates with four-digit years.`,
        );
        expect([outcome.rowsRead, rowsSetAside(outcome)]).toEqual([
          first.read + 1 + rest.read,
          first.read + 1 + rest.read,
        ]);
        const reason = `all ${outcome.rowsRead} rows: the patient failed`;
        expect(asideOf(outcome)).toEqual([`a.csv:2 failed: ${reason}`]);
      }),
      seeded(150),
    );
  });

  test('lists what was set aside by file and line', async () => {
    const at = (second: number): string => wall(START + second * 1000);
    const file = `${ICP_HEADER}x\n${at(0)},12\n${at(0)},13\n${at(1)},14\n${at(2)},15\n${at(3)},16\ny\n`;
    const [{ setAside }] = await ingestFiles({ 'b.csv': file, 'a.csv': file }, { patient: { id: 'p' } });
    expect(setAside.map(({ file: name, line, kind }) => `${name}:${line} ${kind}`)).toEqual([
      'a.csv:2 cells',
      'a.csv:3 conflict',
      'a.csv:4 conflict',
      'a.csv:8 footer',
      'b.csv:2 cells',
      'b.csv:3 conflict',
      'b.csv:4 conflict',
      'b.csv:5 repeat',
      'b.csv:6 repeat',
      'b.csv:7 repeat',
      'b.csv:8 footer',
    ]);
  });
});
