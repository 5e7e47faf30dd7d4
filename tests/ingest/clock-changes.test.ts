import { describe, expect, test } from 'vitest';
import { asideOf, expectAccount, ICP_HEADER, ingestFiles, ingestOne, samplesOf, wall } from './support.js';

/**
 * Outside check: in the EU summer time (+2 h in Oslo) ends at 01:00 UTC on the last Sunday of October and
 * begins at 01:00 UTC on the last Sunday of March (Directive 2000/84/EC); 2031-10-26 and 2031-03-30 are those.
 */
const FOLD = Date.UTC(2031, 9, 26, 1);
const SPRING = Date.UTC(2031, 2, 30, 1);
const HOUR = 3_600_000;
const MINUTE = 60_000;

const instants = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, i) => from + i * step);

/** The wall clock in Oslo by the rule above, near the fold. */
const oslo = (ms: number): string => wall(ms + (ms < FOLD ? 2 : 1) * HOUR);

const read = (content: string) => ingestOne(content, { zone: 'Europe/Oslo' });
const timesOf = async (content: string) => samplesOf(await read(content), 'icp').map(([t]) => Date.parse(t));
const rows = (times: readonly number[], clock = oslo): string =>
  times.map((t, i) => `${clock(t)},${10 + (i % 7)}\n`).join('');

describe('the night on which the clock in Oslo goes back', () => {
  test.each([
    ['minute', MINUTE],
    ['second', 1000],
    ['10-minute', 10 * MINUTE],
  ])('is read whole from %s data without an offset', async (_, step) => {
    const night = instants(FOLD - 3 * HOUR, FOLD + 3 * HOUR, step);
    expect(await timesOf(ICP_HEADER + rows(night))).toEqual(night);
  });

  test('is read whole where half of the repeated hour is missing in both passes', async () => {
    const night = [
      ...instants(FOLD - HOUR, FOLD - 31 * MINUTE, MINUTE),
      ...instants(FOLD, FOLD + 29 * MINUTE, MINUTE),
      ...instants(FOLD + HOUR, FOLD + 2 * HOUR, MINUTE),
    ];
    expect(await timesOf(ICP_HEADER + rows(night))).toEqual(night);
  });

  test('is read from hourly data in which the same digits stand twice', async () => {
    const night = instants(FOLD - 90 * MINUTE, FOLD + 150 * MINUTE, HOUR);
    expect(night.map(oslo).filter((text) => text.endsWith('02:30:00'))).toHaveLength(2);
    expect(await timesOf(ICP_HEADER + rows(night))).toEqual(night);
  });

  test('is read as written where the cells carry their offset', async () => {
    const night = instants(FOLD - HOUR, FOLD + HOUR, 10 * MINUTE);
    const clock = (t: number): string => `${oslo(t)}${t < FOLD ? '+02:00' : '+01:00'}`;
    expect(await timesOf(ICP_HEADER + rows(night, clock))).toEqual(night);
  });

  const doubt = (file: string, time: string): string =>
    `${file}: the clock shows the hour of ${time} twice that night, and nothing says which one is meant; it was taken for that of +02:00.`;

  test('is taken for its first pass where nothing says which, with a warning', async () => {
    const outcome = await read(`${ICP_HEADER}2031-10-26 02:30:00,12\n`);
    expect(samplesOf(outcome, 'icp').map(([t]) => Date.parse(t))).toEqual([FOLD - HOUR / 2]);
    expect(outcome.warnings).toEqual([doubt('a.csv', '2031-10-26 02:30')]);
  });

  test('is no matter of doubt where the rows run on into it or through it', async () => {
    for (const [from, to] of [
      [FOLD - 2 * HOUR, FOLD - HOUR / 2],
      [FOLD - 2 * HOUR, FOLD + HOUR / 2],
      [FOLD - HOUR / 2, FOLD + 2 * HOUR],
      [FOLD + HOUR / 2, FOLD + 2 * HOUR],
    ]) {
      const night = instants(from, to, MINUTE);
      const outcome = await read(ICP_HEADER + rows(night));
      expect(samplesOf(outcome, 'icp').map(([t]) => Date.parse(t))).toEqual(night);
      expect(outcome.warnings).toEqual([]);
    }
  });

  test('is read whole from rows that stand newest first', async () => {
    const night = instants(FOLD - 2 * HOUR, FOLD + 2 * HOUR, MINUTE);
    expect(await timesOf(ICP_HEADER + rows([...night].reverse()))).toEqual(night);
  });

  test.each([
    ['before it', -4 * HOUR, -45 * MINUTE],
    ['in its first pass', -55 * MINUTE, -15 * MINUTE],
  ])('is read whole where the rows have a hole %s', async (_, from, to) => {
    const night = [
      ...instants(FOLD - 5 * HOUR, FOLD + from, MINUTE),
      ...instants(FOLD + to, FOLD + 2 * HOUR, MINUTE),
    ];
    expect(await timesOf(ICP_HEADER + rows(night))).toEqual(night);
  });

  test('is in doubt where the rows stop in it after a hole', async () => {
    const night = [
      ...instants(FOLD - 3 * HOUR, FOLD - 2 * HOUR, MINUTE),
      ...instants(FOLD - 40 * MINUTE, FOLD - 30 * MINUTE, MINUTE),
    ];
    const outcome = await read(ICP_HEADER + rows(night));
    expect(samplesOf(outcome, 'icp').map(([t]) => Date.parse(t))).toEqual(night);
    expect(outcome.warnings).toEqual([doubt('a.csv', '2031-10-26 02:20')]);
  });

  test('is set aside row by row where the second pass is a file of its own, which cannot say that it is one', async () => {
    const files = {
      '1.csv': ICP_HEADER + rows(instants(FOLD - HOUR, FOLD - MINUTE, MINUTE)),
      '2.csv': ICP_HEADER + rows(instants(FOLD, FOLD + HOUR - MINUTE, MINUTE)),
    };
    const [outcome] = await ingestFiles(files, { zone: 'Europe/Oslo', patient: { id: 'p' } });
    expect(outcome.setAside.map(({ file, line }) => [file, line])).toEqual(
      Array.from({ length: 60 }, (_, i) => ['2.csv', i + 2]),
    );
    expect(outcome.warnings).toEqual([
      doubt('1.csv', '2031-10-26 02:00'),
      doubt('2.csv', '2031-10-26 02:00'),
    ]);
    expectAccount(outcome, { read: 120, used: 60 });
  });

  test('does not hide a third pass through the same hour', async () => {
    const night = [
      ...instants(FOLD - HOUR, FOLD - MINUTE, MINUTE),
      ...instants(FOLD, FOLD + HOUR - MINUTE, MINUTE),
    ];
    const outcome = await read(`${ICP_HEADER}${rows(night)}2031-10-26 02:00:00,99\n`);
    const reason =
      'the clock goes back by 59 min at line 122: the times from 2031-10-26 02:00:00 to 2031-10-26 02:00:00 stand twice';
    expect(asideOf(outcome)).toEqual([`a.csv:62 clock: ${reason}`, `a.csv:122 clock: ${reason}`]);
    expect(outcome.warnings).toEqual([`a.csv: ${reason}; both were set aside.`]);
    expectAccount(outcome, { read: 121, used: 119 });
  });

  test('shows no repeated hour in a zone that has none: the hour then stands twice and is set aside', async () => {
    const night = instants(FOLD - 3 * HOUR, FOLD + 3 * HOUR, MINUTE);
    const outcome = await ingestOne(ICP_HEADER + rows(night), { zone: 'Etc/GMT-1' });
    const reason =
      'the clock goes back by 59 min at line 182: the times from 2031-10-26 02:00:00 to 2031-10-26 02:59:00 stand twice';
    expect(asideOf(outcome)).toEqual(
      Array.from({ length: 120 }, (_, i) => `a.csv:${122 + i} clock: ${reason}`),
    );
    expect(outcome.warnings).toEqual([`a.csv: ${reason}; both were set aside.`]);
    expectAccount(outcome, { read: 361, used: 241 });
  });

  test('fails the patient in such a zone where the file holds hardly more than the two hours', async () => {
    const night = instants(FOLD - HOUR, FOLD + HOUR, MINUTE);
    const outcome = await ingestOne(ICP_HEADER + rows(night), { zone: 'Etc/GMT-1' });
    expect(outcome.problem).toBe(
      'a.csv, line 2: 120 of 121 rows cannot be used, this one first: the clock goes back by 59 min at line 62: the times from 2031-10-26 02:00:00 to 2031-10-26 02:59:00 stand twice. Correct the file or export it again.',
    );
  });
});

describe('the night on which the clock in Oslo goes forward', () => {
  const clock = (ms: number): string => wall(ms + (ms < SPRING ? 1 : 2) * HOUR);

  test('is read without a gap', async () => {
    const night = instants(SPRING - HOUR, SPRING + HOUR, MINUTE);
    expect(await timesOf(ICP_HEADER + rows(night, clock))).toEqual(night);
  });

  test('has no 02:30, which a monitor that kept its old clock still writes', async () => {
    const outcome = await read(`${ICP_HEADER}2031-03-30 01:59:00,12\n2031-03-30 02:30:00,12\n`);
    expect(outcome.problem).toBe(
      'a.csv, line 3, column "Time": "2031-03-30 02:30:00" does not exist in Europe/Oslo: the clocks went forward over it. Look at timezone in the pipeline file; a monitor that does not change its clock needs a zone such as Etc/GMT-1.',
    );
  });

  test('is read from such a monitor in the zone that the message names', async () => {
    const content = `${ICP_HEADER}2031-03-30 01:59:00,12\n2031-03-30 02:30:00,12\n`;
    const outcome = await ingestOne(content, { zone: 'Etc/GMT-1' });
    expect(samplesOf(outcome, 'icp').map(([t]) => t)).toEqual([
      '2031-03-30T00:59:00.000Z',
      '2031-03-30T01:30:00.000Z',
    ]);
  });
});

describe('a time column whose header names a clock', () => {
  const firstTime = async (header: string, cell: string, columns = {}) => {
    const content = `${header},ICP (mmHg)\n${cell},12\n`;
    const [outcome] = await ingestFiles({ 'a.csv': content }, { zone: 'Europe/Oslo', columns });
    return samplesOf(outcome, 'icp')[0][0];
  };

  test.each([
    ['Time', '2031-02-11T01:10:00.000Z'],
    ['Time (local)', '2031-02-11T01:10:00.000Z'],
    ['Time (UTC)', '2031-02-11T02:10:00.000Z'],
    ['Time UTC', '2031-02-11T02:10:00.000Z'],
    ['time_utc', '2031-02-11T02:10:00.000Z'],
    ['Timestamp [GMT]', '2031-02-11T02:10:00.000Z'],
    ['Time (UTC+03:00)', '2031-02-10T23:10:00.000Z'],
    ['Time (GMT-5)', '2031-02-11T07:10:00.000Z'],
  ])('%j is read in that clock and not in the zone of the pipeline', async (header, expected) => {
    expect(await firstTime(header, '2031-02-11 02:10:00')).toBe(expected);
  });

  test('still gives way to an offset in the cell', async () => {
    expect(await firstTime('Time (UTC)', '2031-02-11 02:10:00+01:00')).toBe('2031-02-11T01:10:00.000Z');
  });

  test('is read so too where the pipeline file names the column', async () => {
    expect(await firstTime('When UTC', '2031-02-11 02:10:00', { time: 'When UTC' })).toBe(
      '2031-02-11T02:10:00.000Z',
    );
  });
});
