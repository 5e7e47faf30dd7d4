import { describe, expect, test } from 'vitest';
import { expectAccount, ICP_HEADER, icpRows, ingestOne, START, valuesOf, whyFailed } from './support.js';

const timeFix = 'Times are expected as 2031-02-11 02:10:00, with or without an offset.';
const cellFix =
  'Correct the cell; where it means "no value", list it in the pipeline file as columns: {missing: [...]}.';

/** Two good rows, the given one as line 4, and three more. */
const around = (row: string): string => `${ICP_HEADER}${icpRows(2)}${row}\n${icpRows(3, START + 10_000)}`;

describe('a time that cannot be read', () => {
  test.each([
    ['12:10:00', '"12:10:00" is no time that can be read.'],
    ['11.02.2031 02:10', '"11.02.2031 02:10" is no time that can be read.'],
    ['02/11/2031 02:10:00', '"02/11/2031 02:10:00" is no time that can be read.'],
    ['1928542200', '"1928542200" is no time that can be read.'],
    ['2031-02-29 02:10:00', '"2031-02-29 02:10:00" is no time that can be read.'],
    ['2031-02-11 24:00:00', '"2031-02-11 24:00:00" is no time that can be read.'],
    ['', 'the time is blank.'],
    ['   ', 'the time is blank.'],
  ])('fails the patient, with the line and the column: %j', async (cell, what) => {
    const outcome = await ingestOne(around(`${cell},12`));
    expect(outcome.problem).toBe(`a.csv, line 4, column "Time": ${what} ${timeFix}`);
    expectAccount(outcome, { read: 6, used: 0 });
  });

  test('is shown short and in one line', async () => {
    expect(await whyFailed(around(`"${'x'.repeat(30)}\n${'y'.repeat(30)}",12`))).toBe(
      `a.csv, line 4, column "Time": "${'x'.repeat(30)} ${'y'.repeat(9)}..." is no time that can be read. ${timeFix}`,
    );
  });
});

describe('a text in a number column', () => {
  test.each(['alarm', '12 mmHg', '12*', '>30', '1e999', '0x10', '12;5', 'na', '\u22125', '1 200'])(
    'fails the patient, with the line and the column: %j',
    async (cell) => {
      const outcome = await ingestOne(around(`2031-02-11 02:00:05,${cell}`));
      expect(outcome.problem).toBe(
        `a.csv, line 4, column "ICP (mmHg)": "${cell}" is not a number. ${cellFix}`,
      );
      expectAccount(outcome, { read: 6, used: 0 });
    },
  );

  test('is no value where it is a missing mark, and only in just this spelling', async () => {
    const marks = ['-', '--', '---', '***', '?', 'NA', 'N/A', 'NaN', 'null', ' -- ', ''];
    const rows = marks.map((mark, i) => `2031-02-11 02:10:${10 + i},${mark}\n`).join('');
    const outcome = await ingestOne(`${ICP_HEADER}${rows}2031-02-11 02:10:40,12\n`);
    expect(valuesOf(outcome, 'icp')).toEqual([12]);
    expect([outcome.rowsRead, outcome.setAside]).toEqual([12, []]);
    expect(await whyFailed(around('2031-02-11 02:00:05,NULL'))).toContain('"NULL" is not a number.');
  });

  test('is no value where the pipeline file lists it', async () => {
    const content = `${ICP_HEADER}2031-02-11 02:10:00,lead off\n2031-02-11 02:10:01,12\n`;
    expect(valuesOf(await ingestOne(content, { missing: ['lead off'] }), 'icp')).toEqual([12]);
  });

  test('is passed over in a column that is not read', async () => {
    const content = 'Time,ICP (mmHg),Note,NIBP mean (mmHg)\n2031-02-11 02:10:00,12,turned,error\n';
    expect(valuesOf(await ingestOne(content), 'icp')).toEqual([12]);
  });
});

describe('a decimal comma', () => {
  test('is named as such where the delimiter is another', async () => {
    const content = 'Time;ICP (mmHg);MAP (mmHg)\n2031-02-11 02:10:00;12;80\n2031-02-11 02:10:01;12,5;80,5\n';
    expect(await whyFailed(content)).toBe(
      'a.csv, line 3, column "ICP (mmHg)": "12,5" is not a number. Decimals are expected with a point.',
    );
  });

  test('is named as such in quotes', async () => {
    expect(await whyFailed(around('2031-02-11 02:00:05,"12,5"'))).toBe(
      'a.csv, line 4, column "ICP (mmHg)": "12,5" is not a number. Decimals are expected with a point.',
    );
  });

  test('fails the patient where the commas make more cells in each row', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}2031-02-11 02:10:00,12,5\n2031-02-11 02:10:01,12,6\n`);
    expect(outcome.problem).toBe(
      'a.csv, line 2: no row can be used (3 cells where the header has 2). Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.',
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
