import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
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

/** The text of a file, how many rows it holds, and how many of them should be set aside. */
function fileOf(rows: readonly Row[]): { text: string; read: number; aside: number } {
  let text = `${ICP_HEADER}${wall(START)},12\n`;
  let read = 1;
  let aside = 0;
  let second = 0;
  for (const row of rows) {
    const time = wall(START + second * 1000);
    if (row.kind === 'new') text += `${wall(START + ++second * 1000)},12\n`;
    else if (row.kind === 'blank') text += '\n';
    else {
      const cells = { short: time, long: `${time},12,13`, again: `${time},12`, other: `${time},99` }[
        row.kind
      ];
      text += `${cells}\n`.repeat(row.times);
      aside += row.times;
      read += row.times;
    }
    if (row.kind === 'new') read++;
  }
  return { text, read, aside };
}

describe('the account of rows', () => {
  test('holds for any file: rows read = rows used + rows set aside, each with its file and line', async () => {
    await fc.assert(
      fc.asyncProperty(rowSequence, async (rows) => {
        const { text, read, aside } = fileOf(rows);
        const [outcome] = await ingestFiles({ 'a.csv': text });
        expectAccount(outcome, { read, used: read - aside });
        const lines = text.split('\n');
        for (const { file, line, reason } of outcome.setAside) {
          expect(file).toBe('a.csv');
          expect(lines[line - 1]).not.toBe('');
          expect(line).toBeGreaterThan(1);
          expect(reason).not.toBe('');
        }
        expect(new Set(outcome.setAside.map(({ line }) => line)).size).toBe(aside);
      }),
      seeded(300),
    );
  });

  test('holds for any split of a patient into files, where each later file repeats rows of the first', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(rowSequence, { minLength: 1, maxLength: 4 }), async (sequences) => {
        const parts = sequences.map(fileOf);
        const files: Files = Object.fromEntries(parts.map(({ text }, i) => [`${i}.csv`, text]));
        const [outcome] = await ingestFiles(files, { patient: { id: 'p' } });
        // All files start at the same second, so the longest one decides how many rows are used.
        const used = Math.max(...parts.map(({ read, aside }) => read - aside));
        expectAccount(outcome, { read: parts.reduce((sum, { read }) => sum + read, 0), used });
      }),
      seeded(150),
    );
  });

  test('counts every row of a patient whose file fails as set aside, also those behind the bad one', async () => {
    await fc.assert(
      fc.asyncProperty(rowSequence, rowSequence, async (before, behind) => {
        const first = fileOf(before);
        const rest = fileOf(behind);
        const bad = 'not a time,12\n';
        const [outcome] = await ingestFiles({
          'a.csv': first.text + bad + rest.text.slice(ICP_HEADER.length),
        });
        expect(outcome.problem).toContain('"not a time" is no time that can be read.');
        expect([outcome.rowsRead, rowsSetAside(outcome)]).toEqual([
          first.read + 1 + rest.read,
          first.read + 1 + rest.read,
        ]);
      }),
      seeded(150),
    );
  });

  test('lists what was set aside by file and line', async () => {
    const file = `${ICP_HEADER}x\n${wall(START)},12\n${wall(START)},13\ny\n`;
    const [{ setAside }] = await ingestFiles({ 'b.csv': file, 'a.csv': file }, { patient: { id: 'p' } });
    expect(setAside.map(({ file: name, line }) => [name, line])).toEqual([
      ['a.csv', 2],
      ['a.csv', 4],
      ['a.csv', 5],
      ['b.csv', 2],
      ['b.csv', 3],
      ['b.csv', 4],
      ['b.csv', 5],
    ]);
  });
});
