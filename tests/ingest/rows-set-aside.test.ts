import { describe, expect, test } from 'vitest';
import { expectAccount, ICP_HEADER, icpRows, ingestOne, START, valuesOf } from './support.js';

describe('a row with another number of cells than the header', () => {
  test('is set aside with its line and what is wrong, and the others are used', async () => {
    const content = `${ICP_HEADER}${icpRows(2)}2031-02-11 02:00:05\n2031-02-11 02:00:06,1,2\n${icpRows(2, START + 7000)}`;
    const outcome = await ingestOne(content);
    expect(outcome.problem).toBeNull();
    expect(outcome.setAside).toEqual([
      { file: 'a.csv', line: 4, reason: '1 cells where the header has 2' },
      { file: 'a.csv', line: 5, reason: '3 cells where the header has 2' },
    ]);
    expectAccount(outcome, { read: 6, used: 4 });
  });

  test('is set aside where the file ends in the middle of it', async () => {
    for (const last of ['2031-02-11 02:00:05,12', '2031-02-11 02:00:05', '2031-02-1', 'x']) {
      const outcome = await ingestOne(`Time,ICP (mmHg),MAP (mmHg)\n2031-02-11 02:00:04,12,80\n${last}`);
      expect(outcome.setAside).toMatchObject([{ file: 'a.csv', line: 3 }]);
      expectAccount(outcome, { read: 2, used: 1 });
    }
  });

  test('fails the patient where no other row is left, so that no empty recording is made', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(3).replaceAll('\n', ',\n')}`);
    expect(outcome.problem).toBe(
      'a.csv, line 2: no row can be used (3 cells where the header has 2). Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.',
    );
    expect(outcome.setAside).toEqual([{ file: 'a.csv', line: 2, reason: 'all 3 rows: the patient failed' }]);
  });

  test('names the first row of a failed patient, though that row is the bad one', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}\n\n2031-02-11 02:00:05\nx,1\n`);
    expect(outcome.setAside).toEqual([{ file: 'a.csv', line: 4, reason: 'all 2 rows: the patient failed' }]);
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
      { file: 'a.csv', line: 3, reason: 'same time as line 2, and nothing new' },
    ]);
    expectAccount(outcome, { read: 3, used: 2 });
  });

  test.each([
    ['another value', `${at},12,80`, `${at},13,80`],
    ['another value beside a new one', `${at},12,`, `${at},13,80`],
  ])('is set aside where it contradicts: %s', async (_, first, second) => {
    const outcome = await ingestOne(content(first, second));
    expect(outcome.setAside).toEqual([
      { file: 'a.csv', line: 3, reason: 'same time as line 2, which is kept, with other values' },
    ]);
    expect(valuesOf(outcome, 'icp')).toEqual([12, 12]);
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
