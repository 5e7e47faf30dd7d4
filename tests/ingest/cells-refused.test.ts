import { describe, expect, test } from 'vitest';
import {
  asideOf,
  expectAccount,
  ICP_HEADER,
  icpRows,
  ingestOne,
  START,
  valuesOf,
  whyFailed,
} from './support.js';

const timeFix = 'Times are expected as 2031-02-11 02:10:00, with or without an offset.';
const cellFix =
  'Correct the cell; where it means "no value", list it in the pipeline file as columns: {missing: [...]}.';

/** Two good rows, the given one as line 4, and three more. */
const around = (row: string): string => `${ICP_HEADER}${icpRows(2)}${row}\n${icpRows(3, START + 10_000)}`;

describe('a time that cannot be read', () => {
  const noDate = 'Export the date with it, or name the column of dates as columns: {time: {date: ...}}.';

  test.each([
    ['12:10:00', '"12:10:00" is a time of day without a date', noDate],
    ['2031-02-12', '"2031-02-12" is a date without a time of day', timeFix],
    ['1928542200', '"1928542200" is no time that can be read', timeFix],
    ['2031-02-29 02:10:00', '"2031-02-29 02:10:00" is no time that the calendar has', timeFix],
    ['2031-02-11 24:01:00', '"2031-02-11 24:01:00" is no time that the calendar has', timeFix],
    ['2031-02-11 02:10:00 CET', '"2031-02-11 02:10:00 CET" is no time that can be read', timeFix],
    ['', 'the time is blank', timeFix],
    ['   ', 'the time is blank', timeFix],
  ])('sets its row aside with the line, the column and what to do: %j', async (cell, what, fix) => {
    const outcome = await ingestOne(around(`${cell},12`));
    expect(outcome.setAside).toEqual([
      {
        file: 'a.csv',
        line: 4,
        rows: 1,
        kind: 'unreadable',
        reason: `column "Time": ${what}`,
        fix,
        row: `${cell},12`,
      },
    ]);
    expectAccount(outcome, { read: 6, used: 5 });
    expect(outcome.warnings).toEqual([`One row could not be used: a.csv, line 4, column "Time": ${what}.`]);
  });

  test('is shown short and in one line', async () => {
    const outcome = await ingestOne(around(`"${'x'.repeat(30)}\n${'y'.repeat(30)}",12`));
    expect(outcome.setAside).toMatchObject([
      {
        line: 4,
        reason: `column "Time": "${'x'.repeat(30)} ${'y'.repeat(9)}..." is no time that can be read`,
        row: `"${'x'.repeat(30)}\n${'y'.repeat(30)}",12`,
      },
    ]);
  });

  test('fails the patient where its year has two digits, which puts all other times in doubt', async () => {
    const outcome = await ingestOne(around('11.02.31 02:00:05,12'));
    expect(outcome.problem).toBe(
      'a.csv, line 4, column "Time": the year in "11.02.31 02:00:05" has two digits, so it may be a day or a month as well. Export the dates with four-digit years.',
    );
    expectAccount(outcome, { read: 6, used: 0 });
  });

  test('fails the patient where a row has the day first and another the month', async () => {
    const row = (date: string): string => `${date} 02:00:00,12\n`;
    expect(await whyFailed(ICP_HEADER + row('13/02/2031') + row('14/02/2031') + row('02/15/2031'))).toBe(
      'a.csv, line 4, column "Time": "02/15/2031 02:00:00" does not have the day first, as the other dates do (day first, since line 2 holds 13/02/2031 02:00:00). Two ways of writing dates are mixed: split the file, or look at columns: {time: {order: ...}}.',
    );
  });
});

describe('a text in a number column', () => {
  test.each(['alarm', '12 mmHg', '12*', '>30', '1e999', '0x10', '12;5', 'n.a.', '1 200', '\u2212\u22125'])(
    'sets its row aside with the line, the column and what to do: %j',
    async (cell) => {
      const row = `2031-02-11 02:00:05,${cell}`;
      const outcome = await ingestOne(around(row));
      expect(outcome.setAside).toEqual([
        {
          file: 'a.csv',
          line: 4,
          rows: 1,
          kind: 'unreadable',
          reason: `column "ICP (mmHg)": "${cell}" is not a number`,
          fix: cellFix,
          row,
        },
      ]);
      expectAccount(outcome, { read: 6, used: 5 });
    },
  );

  test('is named beside every other fault of the row', async () => {
    const outcome = await ingestOne(
      `Time,ICP (mmHg),MAP (mmHg)\n2031-02-11 02:00:00,12,80\n2031-02-11 02:00:01,12,80\n2031-02-30 02:00:02,alarm,low\n2031-02-11 02:00:03,12,80\n`,
    );
    expect(outcome.setAside).toMatchObject([
      {
        line: 4,
        kind: 'unreadable',
        reason:
          'column "Time": "2031-02-30 02:00:02" is no time that the calendar has; column "ICP (mmHg)": "alarm" is not a number; column "MAP (mmHg)": "low" is not a number',
        fix: timeFix,
        row: '2031-02-30 02:00:02,alarm,low',
      },
    ]);
  });

  test('takes the whole row with it, so that no half of a row is used', async () => {
    const outcome = await ingestOne(
      'Time,ICP (mmHg),MAP (mmHg)\n2031-02-11 02:00:00,12,80\n2031-02-11 02:00:01,13,low\n2031-02-11 02:00:02,14,82\n',
    );
    expect([valuesOf(outcome, 'icp'), valuesOf(outcome, 'map')]).toEqual([
      [12, 14],
      [80, 82],
    ]);
  });

  test('fails the patient where more than half of the rows are so, with the first of them', async () => {
    const rows = (bad: number, good: number): string =>
      `${ICP_HEADER}${icpRows(bad).replaceAll(/,\d+/g, ',x')}${icpRows(good, START + 60_000)}`;
    const outcome = await ingestOne(rows(4, 3));
    expect(outcome.problem).toBe(
      `a.csv, line 2: 4 of 7 rows cannot be used, this one first: column "ICP (mmHg)": "x" is not a number. ${cellFix}`,
    );
    expectAccount(outcome, { read: 7, used: 0 });
    expectAccount(await ingestOne(rows(4, 4)), { read: 8, used: 4 });
  });

  test.each([
    ...['-', '--', '---', '----', '\u2013', '\u2014\u2014', '*', '***', '****', '?', '???', '#', '##', '..'],
    ...['__', 'NA', 'na', 'N/A', 'n/a', 'NaN', 'nan', 'NULL', 'null', 'None', ' -- ', ''],
  ])('is no value where it is a missing mark, in any case: %j', async (mark) => {
    const outcome = await ingestOne(`${ICP_HEADER}2031-02-11 02:10:00,${mark}\n2031-02-11 02:10:40,12\n`);
    expect(valuesOf(outcome, 'icp')).toEqual([12]);
    expect([outcome.rowsRead, outcome.setAside]).toEqual([2, []]);
  });

  test.each(['-*', '-.', '.', '-?', '--12', 'NAN1', 'nil'])('is no missing mark: %j', async (text) => {
    const outcome = await ingestOne(around(`2031-02-11 02:00:05,${text}`));
    expect(asideOf(outcome)).toEqual([`a.csv:4 unreadable: column "ICP (mmHg)": "${text}" is not a number`]);
  });

  test('is no value where the pipeline file lists it, in any case', async () => {
    const content = `${ICP_HEADER}2031-02-11 02:10:00,Lead OFF\n2031-02-11 02:10:01,12\n`;
    expect(valuesOf(await ingestOne(content, { missing: ['lead off'] }), 'icp')).toEqual([12]);
  });

  test('is no value where the pipeline file lists a number, however it is written', async () => {
    const content = `${ICP_HEADER}2031-02-11 02:10:00,-999\n2031-02-11 02:10:01,12\n2031-02-11 02:10:02,-999.0\n`;
    expect(valuesOf(await ingestOne(content, { missing: ['-999'] }), 'icp')).toEqual([12]);
  });

  test('is passed over in a column that is not read', async () => {
    const content = 'Time,ICP (mmHg),Note,NIBP mean (mmHg)\n2031-02-11 02:10:00,12,turned,error\n';
    expect(valuesOf(await ingestOne(content), 'icp')).toEqual([12]);
  });
});

describe('a minus sign', () => {
  test.each(['-5', '\u22125', '\u20135'])('may be written as in %j', async (cell) => {
    const outcome = await ingestOne(`${ICP_HEADER}2031-02-11 02:10:00,${cell}\n`);
    expect(valuesOf(outcome, 'icp')).toEqual([-5]);
  });

  test('of a typesetter may stand before a decimal comma', async () => {
    const outcome = await ingestOne('Time;ICP (mmHg)\n2031-02-11 02:10:00;\u22122,5\n');
    expect(valuesOf(outcome, 'icp')).toEqual([-2.5]);
  });
});

describe('a decimal comma', () => {
  test('is read where the delimiter is another', async () => {
    const content = 'Time;ICP (mmHg);MAP (mmHg)\n2031-02-11 02:10:00;12;80\n2031-02-11 02:10:01;12,5;80,25\n';
    const outcome = await ingestOne(content);
    expect([valuesOf(outcome, 'icp'), valuesOf(outcome, 'map')]).toEqual([
      [12, 12.5],
      [80, 80.25],
    ]);
    expect([outcome.recording?.channels.icp?.decimals, outcome.recording?.channels.map?.decimals]).toEqual([
      1, 2,
    ]);
  });

  test('is read in quotes', async () => {
    expect(valuesOf(await ingestOne(around('2031-02-11 02:00:05,"12,5"')), 'icp')).toEqual([
      10, 11, 12.5, 10, 11, 12,
    ]);
  });

  test('is the mark of the whole file: a cell with the other one is set aside with both lines', async () => {
    const rows = (marks: string): string =>
      `Time;ICP (mmHg)\n${[...marks].map((mark, i) => `2031-02-11 02:10:0${i};1${i}${mark}5\n`).join('')}`;
    expect(asideOf(await ingestOne(rows(',,.,')))).toEqual([
      'a.csv:4 unreadable: column "ICP (mmHg)": "12.5" is written with a decimal point, and line 2 with a decimal comma',
    ]);
    expect(asideOf(await ingestOne(rows('.,..')))).toEqual([
      'a.csv:3 unreadable: column "ICP (mmHg)": "11,5" is written with a decimal comma, and line 2 with a decimal point',
    ]);
  });

  test.each(['1,2,3', '12,', '1.200,5', '1,200.5', ',', '-,'])(
    'never joins what is no decimal: %j',
    async (cell) => {
      const content = `Time;ICP (mmHg)\n2031-02-11 02:10:00;12\n2031-02-11 02:10:01;13\n2031-02-11 02:10:02;${cell}\n2031-02-11 02:10:03;14\n`;
      expect(asideOf(await ingestOne(content))).toEqual([
        `a.csv:4 unreadable: column "ICP (mmHg)": "${cell}" is not a number`,
      ]);
    },
  );

  test('fails the patient where the commas make more cells in each row', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}2031-02-11 02:10:00,12,5\n2031-02-11 02:10:01,12,6\n`);
    expect(outcome.problem).toBe(
      'a.csv, line 2: 2 of 2 rows cannot be used, this one first: 3 cells where the header has 2. Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.',
    );
    expectAccount(outcome, { read: 2, used: 0 });
  });

  test('never makes two numbers of one', async () => {
    const content = 'Time,ICP (mmHg),MAP (mmHg)\n2031-02-11 02:10:00,12,80\n2031-02-11 02:10:01,12,5,80,5\n';
    const outcome = await ingestOne(content);
    expect(valuesOf(outcome, 'map')).toEqual([80]);
    expectAccount(outcome, { read: 2, used: 1 });
  });
});
