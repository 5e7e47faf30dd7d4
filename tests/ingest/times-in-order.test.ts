import { describe, expect, test } from 'vitest';
import {
  asideOf,
  expectAccount,
  ICP_HEADER,
  icpRows,
  ingestOne,
  START,
  samplesOf,
  valuesOf,
  wall,
} from './support.js';

const lines = (text: string): string[] => text.trimEnd().split('\n');
const sorted = 'a.csv: the rows do not stand in the order of their times; they were sorted.';
const at = (second: number): string => wall(START + second * 1000);

/** What is said of a clock that was set back. */
const setBack = (by: string, line: number, from: number, to: number): string =>
  `the clock goes back by ${by} at line ${line}: the times from ${at(from)} to ${at(to)} stand twice`;

describe('the times of a file', () => {
  test('may run backwards from the first row to the last', async () => {
    const inOrder = await ingestOne(ICP_HEADER + icpRows(40));
    const outcome = await ingestOne(ICP_HEADER + lines(icpRows(40)).reverse().join('\n'));
    expect(samplesOf(outcome, 'icp')).toEqual(samplesOf(inOrder, 'icp'));
    expect(outcome.recording?.extent).toEqual(inOrder.recording?.extent);
    expectAccount(outcome, { read: 40, used: 40 });
    expect(outcome.warnings).toEqual([sorted]);
  });

  test('may stand in any order', async () => {
    const inOrder = await ingestOne(ICP_HEADER + icpRows(97));
    const shuffled = lines(icpRows(97)).map((_, i, all) => all[(i * 31) % 97]);
    const outcome = await ingestOne(ICP_HEADER + shuffled.join('\n'));
    expect(samplesOf(outcome, 'icp')).toEqual(samplesOf(inOrder, 'icp'));
    expectAccount(outcome, { read: 97, used: 97 });
    expect(outcome.warnings).toEqual([sorted]);
  });

  test('may hold a block that stands too late', async () => {
    const content = ICP_HEADER + icpRows(5) + icpRows(5, START + 10_000) + icpRows(5, START + 5000);
    const outcome = await ingestOne(content);
    expect(samplesOf(outcome, 'icp')).toEqual(samplesOf(await ingestOne(ICP_HEADER + icpRows(15)), 'icp'));
    expect([outcome.setAside, outcome.warnings]).toEqual([[], []]);
  });

  test('may start again with the same rows, which are repeats', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(5)}${icpRows(5)}`);
    expect(asideOf(outcome)).toEqual(
      [0, 1, 2, 3, 4].map((i) => `a.csv:${7 + i} repeat: same time as line ${2 + i}, and nothing new`),
    );
    expectAccount(outcome, { read: 10, used: 5 });
    expect(outcome.warnings).toEqual([]);
  });

  test('that a clock shows again with other values are set aside both times, and the rest is kept', async () => {
    const again = icpRows(40, START + 15_000).replaceAll(/,1/g, ',2');
    const outcome = await ingestOne(ICP_HEADER + icpRows(20) + again);
    const reason = setBack('4 s', 22, 15, 19);
    expect(asideOf(outcome)).toEqual(
      [17, 18, 19, 20, 21, 22, 23, 24, 25, 26].map((line) => `a.csv:${line} clock: ${reason}`),
    );
    expect(outcome.warnings).toEqual([`a.csv: ${reason}; both were set aside.`]);
    expect(valuesOf(outcome, 'icp').slice(13, 18)).toEqual([13, 14, 20, 21, 22]);
    expectAccount(outcome, { read: 60, used: 50 });
  });

  test('that a clock shows again between the old ones are set aside both times', async () => {
    const between = icpRows(40, START + 15_000).replaceAll(/(:\d\d),/g, '$1.5,');
    const outcome = await ingestOne(ICP_HEADER + icpRows(20) + between);
    expect(outcome.warnings).toEqual([`a.csv: ${setBack('3.5 s', 22, 16, 19)}; both were set aside.`]);
    expectAccount(outcome, { read: 60, used: 52 });
  });

  test('fail the patient where a clock shows most of them again', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(5)}${icpRows(5).replaceAll(/,1/g, ',2')}`);
    expect(outcome.problem).toBe(
      `a.csv, line 2: 10 of 10 rows cannot be used, this one first: ${setBack('4 s', 7, 0, 4)}. Correct the file or export it again.`,
    );
    expectAccount(outcome, { read: 10, used: 0 });
  });

  test('are compared as instants, so that an offset may change', async () => {
    const forward = '2031-02-11T02:10:00+01:00,12\n2031-02-11T01:10:01Z,13\n2031-02-10T22:10:02-03:00,14\n';
    expectAccount(await ingestOne(ICP_HEADER + forward), { read: 3, used: 3 });
    const back = '2031-02-11T02:10:00+01:00,12\n2031-02-11T02:10:01+02:00,13\n';
    expect(samplesOf(await ingestOne(ICP_HEADER + back), 'icp')).toEqual([
      ['2031-02-11T00:10:01.000Z', 13],
      ['2031-02-11T01:10:00.000Z', 12],
    ]);
  });

  test('may leave hours and days out', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(2)}${icpRows(2, START + 3 * 86_400_000)}`);
    expectAccount(outcome, { read: 4, used: 4 });
  });
});

describe('a second header in the middle of a file', () => {
  const other =
    'another header stands here. Two exports with different columns seem to be joined: split the file here.';

  test('is set aside where it is the same again, whatever blanks stand around its cells', async () => {
    const again = 'Time , ICP (mmHg)\n';
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(5)}${again}${icpRows(5, START + 9000)}`);
    expect(asideOf(outcome)).toEqual(['a.csv:7 footer: the header again']);
    expectAccount(outcome, { read: 11, used: 10 });
  });

  test('is set aside with the row of units under it', async () => {
    const header = 'Time,ICP\n,mmHg\n';
    const outcome = await ingestOne(`${header}${icpRows(5)}${header}${icpRows(5, START + 9000)}`);
    expect(asideOf(outcome)).toEqual([
      'a.csv:8 footer: the header again',
      'a.csv:9 footer: the header again',
    ]);
    expectAccount(outcome, { read: 12, used: 10 });
  });

  test('is set aside at the very top, with its line', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${ICP_HEADER}${icpRows(3)}`);
    expect(asideOf(outcome)).toEqual(['a.csv:2 footer: the header again']);
    const failed = await ingestOne(`${ICP_HEADER}${ICP_HEADER}${wall(START)},x\n`);
    expect(asideOf(failed)).toEqual(['a.csv:2 failed: all 2 rows: the patient failed']);
  });

  test.each([
    ['in another order', 'Time,MAP (mmHg),ICP (mmHg)', '80,12'],
    ['with a column less', 'Time,ICP (mmHg)', '12'],
    ['with a column more', 'Time,ICP (mmHg),MAP (mmHg),HR', '12,80,70'],
    ['in another order, under another name of the time', 'Timestamp,MAP (mmHg),ICP (mmHg)', '80,12'],
    ['with the time in another place', 'MAP (mmHg),Time,ICP (mmHg)', '12'],
  ])('fails the patient where its columns stand %s', async (_, header, cells) => {
    const row = (second: number, text: string): string => `${wall(START + second * 1000)},${text}\n`;
    const before = [0, 1, 2, 3].map((second) => row(second, '12,80')).join('');
    const outcome = await ingestOne(
      `Time,ICP (mmHg),MAP (mmHg)\n${before}${header}\n${row(4, cells)}${row(5, cells)}`,
    );
    expect(outcome.problem).toBe(`a.csv, line 6: ${other}`);
  });
});
