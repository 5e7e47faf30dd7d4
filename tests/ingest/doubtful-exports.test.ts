import { describe, expect, test } from 'vitest';
import { ICP_HEADER, ingestOne, samplesOf, valuesOf, wall, whyFailed } from './support.js';

const MINUTE = 60_000;
const at = (minute: number): string => wall(Date.UTC(2031, 1, 11, 19) + minute * MINUTE);
const rows = (count: number, cells: (i: number) => string): string =>
  Array.from({ length: count }, (_, i) => `${cells(i)}\n`).join('');
const plain = (count: number): string => rows(count, (i) => `${at(i)},${10 + (i % 5)},80`);
const HEADER = 'Time,ICP (mmHg),MAP (mmHg)\n';
const warningsOf = async (content: string, more = {}) => (await ingestOne(content, more)).warnings;

describe('times that may mean something else', () => {
  test('that go back are told of, also where nothing overlaps', async () => {
    const content = `${ICP_HEADER}2031-02-12 02:00:00,12\n2031-02-12 02:00:01,12\n2031-02-01 02:00:00,12\n`;
    expect(await warningsOf(content)).toEqual([
      'a.csv: the times go back by 15840 min at line 4; the rows were put in the order of their times.',
    ]);
  });

  test('that pass midnight under one date are refused', async () => {
    const content = `Date,Time,ICP (mmHg)\n${rows(3, (i) => `2031-02-11,23:5${7 + i}:00,12`)}${rows(3, (i) => `2031-02-11,00:0${i}:00,12`)}`;
    expect(await whyFailed(content)).toBe(
      'a.csv, line 5: the clock passes midnight here, and the date stays: 2031-02-11 23:59:00 is followed by 2031-02-11 00:00:00. Export the date with each time; a date of the recording alone is not enough.',
    );
  });

  test.each(['2131-02-12 07:00:00', '9999-12-31 23:00:00', '1900-01-01 00:00:00'])(
    'that lie far from all others are set aside: %s',
    async (time) => {
      const outcome = await ingestOne(`${HEADER}${plain(200)}${time},12,80\n`);
      expect(outcome.setAside).toMatchObject([{ line: 202, kind: 'clock' }]);
      expect(outcome.recording?.extent).toEqual({
        start: Date.UTC(2031, 1, 11, 19),
        end: Date.UTC(2031, 1, 11, 19) + 199 * MINUTE,
      });
    },
  );

  test('that lie years apart, many of each, are refused', async () => {
    const later = rows(50, (i) => `${at(i).replace('2031', '2035')},12,80`);
    expect(await whyFailed(`${HEADER}${plain(50)}${later}`)).toContain(
      'a.csv, line 52: the rows lie 1461 days apart: nothing from 2031-02-11T19:49:00+00:00 to',
    );
  });

  test('are not settled by a date that the calendar lacks', async () => {
    const content = `${ICP_HEADER}03/04/2031 19:00:00,12\n03/40/2031 20:00:00,12\n`;
    expect(await whyFailed(content)).toContain('the dates can be read two ways');
  });

  test('are not settled by dates that are written otherwise', async () => {
    const content = `${ICP_HEADER}02/05/2031 19:00:00,12\n13.02.2031 19:00:00,12\n`;
    expect(await whyFailed(content)).toContain('dates are written with "/" and here with "."');
    const settledFirst = `${ICP_HEADER}13.02.2031 19:00:00,12\n02/05/2031 19:00:00,12\n`;
    expect(await whyFailed(settledFirst)).toContain('"02/05/2031 19:00:00" is written another way');
  });

  test.each([
    [
      'of hours',
      (i: number) => `2031-02-11 ${String(i).padStart(2, '0')}:00-${String(i + 1).padStart(2, '0')}:00`,
    ],
    ['of evening hours', (i: number) => `2031-02-11 ${14 + i}:00-${15 + i}:00`],
  ])('from and to are no offsets: %s', async (_, time) => {
    expect(await whyFailed(ICP_HEADER + rows(8, (i) => `${time(i)},12`))).toContain(
      'it looks like a time from and to',
    );
  });

  test.each([
    ['Time (UTC\u22125)', '2031-02-11T24:00:00.000Z'],
    ['Time (UTC-05:00)', '2031-02-11T24:00:00.000Z'],
  ])('have the offset that the header gives: %s', async (header) => {
    const [[time]] = samplesOf(await ingestOne(`${header},ICP (mmHg)\n2031-02-11 19:00:00,12\n`), 'icp');
    expect(time).toBe('2031-02-12T00:00:00.000Z');
  });

  test.each(['Time (GMT Standard Time)', 'Time (UTC+5.5)'])('are refused under %s', async (header) => {
    expect(await whyFailed(`${header},ICP (mmHg)\n2031-02-11 19:00:00,12\n`)).toContain(
      'names a clock that is no offset from UTC',
    );
  });

  test('have the offset that stands in the row of units or over the date', async () => {
    const units = 'Time,ICP\nUTC,mmHg\n2031-02-11 19:00:00,12\n';
    const date = 'Date (UTC),Time,ICP (mmHg)\n2031-02-11,19:00:00,12\n';
    for (const content of [units, date]) {
      const outcome = await ingestOne(content, { zone: 'Europe/Oslo' });
      expect(samplesOf(outcome, 'icp')[0][0]).toBe('2031-02-11T19:00:00.000Z');
    }
  });

  test('as numbers without a unit are asked about, though a start is given', async () => {
    const content = `Start: 2031-02-11 19:00\nTime,ICP (mmHg)\n0,12\n1,12\n`;
    expect(await whyFailed(content)).toContain('the times are plain numbers ("0"), and nothing says of what');
  });

  test.each(['AM/PM', 'UTC offset', 'Time zone', 'Milliseconds'])(
    'with %s apart are refused',
    async (header) => {
      expect(await whyFailed(`Date,Time,${header},ICP (mmHg)\n2031-02-11,07:00:00,x,12\n`)).toContain(
        `"${header}" stands apart from the time that it belongs to`,
      );
    },
  );

  test('under yyyy-dd-mm are refused', async () => {
    expect(await whyFailed('Time (yyyy-dd-mm),ICP (mmHg)\n2031-11-02 19:00:00,12\n')).toContain(
      'puts the day before the month behind the year',
    );
  });

  test('of which some carry an offset are told of', async () => {
    const content = `${ICP_HEADER}2031-02-11 19:00:00+01:00,12\n2031-02-11 18:00:01,12\n`;
    expect(await warningsOf(content)).toEqual([
      'a.csv: 1 times carry an offset and 1 do not, which were taken as local time.',
    ]);
  });

  test('are read as the pipeline file says, against the header, with a word', async () => {
    const content = 'Time (dd/mm/yyyy),ICP (mmHg)\n03/04/2031 19:00:00,12\n';
    expect(await warningsOf(content, { columns: { time: { order: 'monthFirst' } } })).toEqual([
      'a.csv: the dates are read as the pipeline file says, though the header states the other order of day and month.',
    ]);
  });

  test('may be written as several languages have it: 7:00 p. m.', async () => {
    const [[time]] = samplesOf(await ingestOne(`${ICP_HEADER}2031-02-11 7:00:00 p. m.,12\n`), 'icp');
    expect(time).toBe('2031-02-11T19:00:00.000Z');
  });
});

describe('values that may mean something else', () => {
  test('are no halves of decimal commas behind a blank last column', async () => {
    const content = `Time,ICP (mmHg),MAP (mmHg),Note\n${rows(9, (i) => `${at(i)},12,${i},80,`)}`;
    expect(await whyFailed(content)).toContain('9 of 9 rows cannot be used, this one first: 5 cells');
    expect(await whyFailed(`Time,ICP (mmHg),\n${rows(9, (i) => `${at(i)},12,${i}`)}`)).toContain(
      'a number stands under a column without a name',
    );
  });

  test('are not read on under another row of units', async () => {
    const content = `Time,ICP\n,mmHg\n${at(0)},12\nTime,ICP\n,kPa\n${at(1)},1.6\n`;
    expect(await whyFailed(content)).toContain('line 5: another header stands here');
  });

  test.each([
    ['MAP (kPa)', 83, 'the median of MAP is 622.6 mmHg'],
    ['MAP (mmHg)', 10.6, 'the median of MAP is 10.6 mmHg'],
  ])('that are no patient\u2019s in their unit are told of: %s %d', async (header, value, warning) => {
    const warnings = await warningsOf(`Time,ICP (mmHg),${header}\n${rows(5, (i) => `${at(i)},12,${value}`)}`);
    expect(warnings.join()).toContain(warning);
  });

  test('of a limit do not stand on the curve of an export with a row a value', async () => {
    const content = `Time,Parameter,Type,Value,Unit\n${rows(6, (i) => `${at(i)},ICP,${i % 2 ? 'high limit' : 'measured'},${i % 2 ? 25 : 12},mmHg`)}`;
    const outcome = await ingestOne(content);
    expect(valuesOf(outcome, 'icp')).toEqual([12, 12, 12]);
    expect(await whyFailed(content.replaceAll('high limit', 'maximum'))).toContain(
      '"ICP" comes as "measured" and as "maximum", which are not one curve',
    );
  });

  test.each(['NIBP', 'Alarm limits'])('under a group that says %s are left alone', async (group) => {
    const outcome = await ingestOne(`,Neuro,${group}\n${HEADER}${plain(5)}`);
    expect(outcome.recording?.channels.map).toBeUndefined();
    expect(valuesOf(outcome, 'icp')).toHaveLength(5);
  });

  test('under a title that says alarm limits are told of', async () => {
    expect(await warningsOf(`Alarm limits,,\n${HEADER}${plain(5)}`)).toEqual([
      'a.csv: the line above the header says "Alarm limits": look whether the columns hold measured values.',
    ]);
  });

  test('that come as seldom as a cuff measures are told of', async () => {
    const content = `Time,ICP (mmHg),SBP (mmHg),DBP (mmHg)\n${rows(30, (i) => `${at(i)},12,${i % 5 ? ',' : '120,60'}`)}`;
    expect((await warningsOf(content)).join()).toContain(
      'comes every 5 min, as a cuff\u2019s does'.replace('\u2019', "'"),
    );
  });

  test('of a limit are no ICP, whatever unit is declared', async () => {
    const columns = { icp: { unit: 'mmHg' } };
    expect(await whyFailed('Time,ICP (limit)\n2031-02-11 19:00:00,22\n', { columns })).toContain(
      'there is no',
    );
    expect(await whyFailed('Time,ICP (mmHg x10)\n2031-02-11 19:00:00,120\n')).toContain(
      '"mmHg x10" holds a factor. Export plain values.',
    );
  });

  test('beside columns of remarks are a column a channel all the same', async () => {
    const content = `Time,ICP (mmHg),Label,Value\n${at(0)},12,turned,\n`;
    expect(valuesOf(await ingestOne(content), 'icp')).toEqual([12]);
  });

  test('are found under headers with characters that nobody sees', async () => {
    expect(valuesOf(await ingestOne(`\u200bTime,ICP (mmHg)\u001a\n${at(0)},12\n`), 'icp')).toEqual([12]);
  });

  test('of a drain are the ICP where the other column is blank', async () => {
    const content = `Time,ICP (mmHg),ICP EVD (mmHg)\n${rows(3, (i) => `${at(i)},,${9 + i}`)}`;
    const outcome = await ingestOne(content);
    expect(valuesOf(outcome, 'icp')).toEqual([9, 10, 11]);
    expect(outcome.recording?.channels.icp?.source).toBe('drain');
  });
});
