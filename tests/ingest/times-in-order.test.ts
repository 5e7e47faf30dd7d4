import { describe, expect, test } from 'vitest';
import { expectAccount, ICP_HEADER, icpRows, ingestOne, START, wall } from './support.js';

const backwards = (line: number, time: string): string =>
  `a.csv, line ${line}: the times run backwards or start again: ${time} is earlier than the row before. Sort the rows by time; where two exports were joined or a clock was set back, split the file here.`;

describe('the times of a file', () => {
  test('may not run backwards by a second', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(5)}${icpRows(5, START + 3000)}`);
    expect(outcome.problem).toBe(backwards(7, wall(START + 3000)));
    expectAccount(outcome, { read: 10, used: 0 });
  });

  test('may not start again', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(5)}${icpRows(5)}`);
    expect(outcome.problem).toBe(backwards(7, wall(START)));
    expectAccount(outcome, { read: 10, used: 0 });
  });

  test('may not run backwards from the first row to the last', async () => {
    const newestFirst = icpRows(5).trimEnd().split('\n').reverse().join('\n');
    expect((await ingestOne(ICP_HEADER + newestFirst)).problem).toBe(backwards(3, wall(START + 3000)));
  });

  test('are compared as instants, so that an offset may change', async () => {
    const forward = '2031-02-11T02:10:00+01:00,12\n2031-02-11T01:10:01Z,13\n2031-02-10T22:10:02-03:00,14\n';
    expectAccount(await ingestOne(ICP_HEADER + forward), { read: 3, used: 3 });
    const back = '2031-02-11T02:10:00+01:00,12\n2031-02-11T02:10:01+02:00,13\n';
    expect((await ingestOne(ICP_HEADER + back)).problem).toBe(backwards(3, '2031-02-11T02:10:01+02:00'));
  });

  test('may leave hours and days out', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(2)}${icpRows(2, START + 3 * 86_400_000)}`);
    expectAccount(outcome, { read: 4, used: 4 });
  });
});

describe('a second header in the middle of a file', () => {
  const again = 'the header stands here again. Two exports seem to be joined: split the file here.';

  test('fails the patient there, though the times go on', async () => {
    const outcome = await ingestOne(`${ICP_HEADER}${icpRows(5)}${ICP_HEADER}${icpRows(5, START + 9000)}`);
    expect(outcome.problem).toBe(`a.csv, line 7: ${again}`);
    expectAccount(outcome, { read: 11, used: 0 });
  });

  test('fails the patient though its columns stand in another order', async () => {
    const content =
      'Time,ICP (mmHg),MAP (mmHg)\n2031-02-11 02:10:00,12,80\nTime,MAP (mmHg),ICP (mmHg)\n2031-02-11 02:10:01,80,12\n';
    expect((await ingestOne(content)).problem).toBe(`a.csv, line 3: ${again}`);
  });

  test('is set aside with all behind it where it has other columns', async () => {
    const content = `${ICP_HEADER}${icpRows(2)}Time,ICP (mmHg),MAP (mmHg)\n2031-02-11 02:10:01,12,80\n`;
    expectAccount(await ingestOne(content), { read: 4, used: 2 });
  });
});
