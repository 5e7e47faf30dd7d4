import { describe, expect, test } from 'vitest';
import { asideOf, expectAccount, ICP_HEADER, icpRows, ingestOne, START, valuesOf, wall } from './support.js';

const cellsFix =
  'Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.';

describe('a row with another number of cells than the header', () => {
  test('is set aside with its line and what is wrong, and the others are used', async () => {
    const content = `${ICP_HEADER}${icpRows(2)}2031-02-11 02:00:05\n2031-02-11 02:00:06,1,2\n${icpRows(2, START + 7000)}`;
    const outcome = await ingestOne(content);
    expect(outcome.problem).toBeNull();
    const place = { file: 'a.csv', rows: 1, kind: 'cells', fix: cellsFix };
    expect(outcome.setAside).toEqual([
      { ...place, line: 4, reason: '1 cells where the header has 2', row: '2031-02-11 02:00:05' },
      { ...place, line: 5, reason: '3 cells where the header has 2', row: '2031-02-11 02:00:06,1,2' },
    ]);
    expectAccount(outcome, { read: 6, used: 4 });
  });

  test('is set aside where the file ends in the middle of it', async () => {
    for (const [last, kind] of [
      ['2031-02-11 02:00:05,12', 'cells'],
      ['2031-02-11 02:00:05', 'cells'],
      ['2031-02-1', 'cells'],
      ['x', 'footer'],
    ]) {
      const outcome = await ingestOne(`Time,ICP (mmHg),MAP (mmHg)\n2031-02-11 02:00:04,12,80\n${last}`);
      expect(outcome.setAside).toMatchObject([{ file: 'a.csv', line: 3, kind, row: last }]);
      expectAccount(outcome, { read: 2, used: 1 });
    }
  });

  test('fails the patient where no other row is left, so that no empty recording is made', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(3).replaceAll('\n', ',1\n')}`);
    expect(outcome.problem).toBe(
      `a.csv, line 2: 3 of 3 rows cannot be used, this one first: 3 cells where the header has 2. ${cellsFix}`,
    );
    expect(asideOf(outcome)).toEqual(['a.csv:2 failed: all 3 rows: the patient failed']);
  });

  test('is read where only blanks stand beyond the header, or the header goes on in blanks', async () => {
    const behindRows = await ingestOne(`${ICP_HEADER}${icpRows(3).replaceAll('\n', ',\n')}`);
    expectAccount(behindRows, { read: 3, used: 3 });
    const behindHeader = await ingestOne(`Time,ICP (mmHg),,\n${icpRows(3)}`);
    expectAccount(behindHeader, { read: 3, used: 3 });
  });

  test('names the first row of a failed patient, though that row is the bad one', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}\n\n2031-02-11 02:00:05\nx,1\n`);
    expect(outcome.setAside).toEqual([
      {
        file: 'a.csv',
        line: 4,
        rows: 2,
        kind: 'failed',
        reason: 'all 2 rows: the patient failed',
        row: '2031-02-11 02:00:05',
      },
    ]);
  });

  test('says nothing of the bed, since its cells stand in other columns', async () => {
    const outcome = await ingestOne(
      `Time,Bed,ICP (mmHg)\n${wall(START)},1,12\n${wall(START + 1000)},13\n${wall(START + 2000)},1,14\nRows,3\n`,
    );
    expect(asideOf(outcome)).toEqual([
      'a.csv:3 cells: 2 cells where the header has 3',
      'a.csv:5 footer: a line behind the data, without a time',
    ]);
  });
});

describe('a line behind the data without a time', () => {
  test.each(['End of export', 'Rows: 2', 'printed by the charge nurse,', ',"no more"', '---,---'])(
    'is set aside as such, and does not count as a bad row: %j',
    async (line) => {
      const outcome = await ingestOne(`${ICP_HEADER}${icpRows(2)}${`${line}\n`.repeat(5)}`);
      expect(asideOf(outcome)).toEqual(
        [4, 5, 6, 7, 8].map((n) => `a.csv:${n} footer: a line behind the data, without a time`),
      );
      expectAccount(outcome, { read: 7, used: 2 });
    },
  );

  test('is a bad row where data follow', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(2)}pause\npause,\n${icpRows(3, START + 9000)}`);
    expect(asideOf(outcome)).toEqual([
      'a.csv:4 cells: 1 cells where the header has 2',
      'a.csv:5 unreadable: column "Time": "pause" is no time that can be read',
    ]);
  });
});

describe('a second row at the same time in a file', () => {
  const content = (...rows: string[]): string =>
    `Time,ICP (mmHg),MAP (mmHg)\n${rows.map((row) => `${row}\n`).join('')}2031-02-11 02:10:09,12,80\n`;
  const at = '2031-02-11 02:10:00';

  test.each([
    ['the same values', `${at},12,80`, `${at},12,80`],
    ['a part of the values', `${at},12,80`, `${at},,80`],
    ['no value', `${at},12,80`, `${at},,`],
    ['the same values written otherwise', `${at},12,80`, '2031-02-11T02:10:00.000Z,12.0,8e1'],
    ['zero with the other sign', `${at},0,80`, `${at},-0,80`],
  ])('is set aside where it says nothing new: %s', async (_, first, second) => {
    const outcome = await ingestOne(content(first, second));
    expect(outcome.setAside).toEqual([
      {
        file: 'a.csv',
        line: 3,
        rows: 1,
        kind: 'repeat',
        reason: 'same time as line 2, and nothing new',
        row: second,
      },
    ]);
    expectAccount(outcome, { read: 3, used: 2 });
  });

  test.each([
    ['another value', `${at},12,80`, `${at},13,80`],
    ['another value beside a new one', `${at},12,`, `${at},13,80`],
  ])('is set aside with the first where they contradict: %s', async (_, first, second) => {
    const outcome = await ingestOne(content(first, second, '2031-02-11 02:10:01,14,81'));
    expect(asideOf(outcome)).toEqual([
      'a.csv:2 conflict: same time as line 3, with another ICP: 12 here, 13 there',
      'a.csv:3 conflict: same time as line 2, with another ICP: 13 here, 12 there',
    ]);
    expect(outcome.setAside.map(({ row }) => row)).toEqual([first, second]);
    expect([valuesOf(outcome, 'icp'), valuesOf(outcome, 'map')]).toEqual([
      [14, 12],
      [81, 80],
    ]);
  });

  test('is set aside though it repeats a row, where a third contradicts both', async () => {
    const rows = [`${at},12,80`, `${at},12,80`, `${at},13,80`];
    const outcome = await ingestOne(
      `${content(...rows)}2031-02-11 02:10:10,12,80\n2031-02-11 02:10:11,12,80\n`,
    );
    expect(asideOf(outcome)).toEqual([
      'a.csv:2 conflict: same time as line 4, with another ICP: 12 here, 13 there',
      'a.csv:3 conflict: same time as line 4, with another ICP: 12 here, 13 there',
      'a.csv:4 conflict: same time as line 2, with another ICP: 13 here, 12 there',
    ]);
  });

  test('fills what the first row left blank, as exports with a channel a row have it', async () => {
    const outcome = await ingestOne(
      content(`${at},12,`, `${at},,80`, '2031-02-11 02:10:01,,81', '2031-02-11 02:10:01,13,'),
    );
    expect(outcome.setAside).toEqual([]);
    expect([valuesOf(outcome, 'icp'), valuesOf(outcome, 'map')]).toEqual([
      [12, 13, 12],
      [80, 81, 80],
    ]);
    expect(outcome.rowsRead).toBe(5);
  });
});

test('lines of nothing but delimiters, as spreadsheets append them, are no rows', async () => {
  const outcome = await ingestOne(
    `Time,ICP (mmHg),HR\n2031-02-11 02:00:00,12,80\n2031-02-11 02:00:01,13,80\n,,\n , ,\n`,
  );
  expectAccount(outcome, { read: 2, used: 2 });
});
