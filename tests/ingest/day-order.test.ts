import { describe, expect, test } from 'vitest';
import { ICP_HEADER, ingestOne, samplesOf, whyFailed } from './support.js';

const rows = (...times: string[]): string =>
  ICP_HEADER + times.map((time, i) => `${time},${10 + i}\n`).join('');
const timesOf = async (content: string, more = {}) =>
  samplesOf(await ingestOne(content, more), 'icp').map(([time]) => time.slice(0, 16));

describe('a date with the year last', () => {
  test('is settled by any row of the column whose day is over 12', async () => {
    expect(await timesOf(rows('03/04/2031 02:10', '04/04/2031 02:10', '13/04/2031 02:10'))).toEqual([
      '2031-04-03T02:10',
      '2031-04-04T02:10',
      '2031-04-13T02:10',
    ]);
    expect(await timesOf(rows('03/04/2031 02:10', '03/13/2031 02:10'))).toEqual([
      '2031-03-04T02:10',
      '2031-03-13T02:10',
    ]);
  });

  test('is settled by a row far beyond the first lines', async () => {
    const many = Array.from({ length: 20_000 }, (_, i) => {
      const clock = new Date(i * 1000).toISOString().slice(11, 19);
      return `03.04.2031 ${clock}`;
    });
    const times = await timesOf(rows(...many, '30.04.2031 00:00:00'));
    expect([times[0], times.at(-1)]).toEqual(['2031-04-03T00:00', '2031-04-30T00:00']);
  });

  test('is refused with both readings where no row settles it', async () => {
    expect(await whyFailed(rows('03/04/2031 19:00:00', '04/04/2031 07:00:00'))).toBe(
      'a.csv, column "Time": the dates can be read two ways, and no row settles it: "03/04/2031 19:00:00" (line 2) to "04/04/2031 07:00:00" (line 3) is 3 April 2031 19:00:00 to 4 April 2031 07:00:00 with the day first, and 4 March 2031 19:00:00 to 4 April 2031 07:00:00 with the month first. Say which in the pipeline file, as columns: {time: {order: dayFirst}} or {order: monthFirst}.',
    );
  });

  test('needs no settling where day and month are the same', async () => {
    expect(await timesOf(rows('11/11/2031 02:10', '11/11/2031 02:11'))).toEqual([
      '2031-11-11T02:10',
      '2031-11-11T02:11',
    ]);
  });

  test('is read as the pipeline file says', async () => {
    const content = rows('03/04/2031 02:10');
    expect(await timesOf(content, { columns: { time: { order: 'dayFirst' } } })).toEqual([
      '2031-04-03T02:10',
    ]);
    expect(await timesOf(content, { columns: { time: { order: 'monthFirst' } } })).toEqual([
      '2031-03-04T02:10',
    ]);
  });

  test('is read as the header states', async () => {
    expect(await timesOf('Time (dd/mm/yyyy hh:mm),ICP (mmHg)\n03/04/2031 02:10,12\n')).toEqual([
      '2031-04-03T02:10',
    ]);
    expect(await timesOf('Time,ICP\nmm/dd/yyyy hh:mm,mmHg\n03/04/2031 02:10,12\n')).toEqual([
      '2031-03-04T02:10',
    ]);
  });

  test('is refused where rows have it both ways, or other than the pipeline file says', async () => {
    expect(await whyFailed(rows('13/04/2031 02:10', '04/14/2031 02:10'))).toBe(
      'a.csv, line 3, column "Time": "04/14/2031 02:10" does not have the day first, as the other dates do (day first, since line 2 holds 13/04/2031 02:10). Two ways of writing dates are mixed: split the file, or look at columns: {time: {order: ...}}.',
    );
    const columns = { time: { order: 'monthFirst' } } as const;
    expect(await whyFailed(rows('13/04/2031 02:10'), { columns })).toBe(
      'a.csv, line 2, column "Time": "13/04/2031 02:10" does not have the month first, as the other dates do (month first, as the pipeline file says). Two ways of writing dates are mixed: split the file, or look at columns: {time: {order: ...}}.',
    );
  });

  test('is refused where its year has two digits', async () => {
    expect(await whyFailed(rows('11/02/31 02:10', '13/02/31 02:10'))).toBe(
      'a.csv, line 2, column "Time": the year in "11/02/31 02:10" has two digits, so it may be a day or a month as well. Export the dates with four-digit years.',
    );
  });
});
