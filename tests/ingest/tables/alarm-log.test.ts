import { describe, expect, test } from 'vitest';
import { alarmParameter } from '../../../src/ingest/tables/alarm-words.js';
import { asides, read, whyRefused } from './support.js';

const alarms = (header: string, ...rows: string[]): string =>
  `Patient,Onset,${header}\n${rows.map((row, i) => `7,2031-02-13 02:${10 + i}:00,${row}\n`).join('')}`;

describe('the parameter', () => {
  test.each([
    ['ICP', 'icp', null],
    ['ICP high', 'icp', 'upper'],
    ['High ICP alarm', 'icp', 'upper'],
    ['ICP > 22 mmHg', 'icp', 'upper'],
    ['ICP>22', 'icp', 'upper'],
    ['CPP low', 'cpp', 'lower'],
    ['CPP below limit', 'cpp', 'lower'],
    ['CPP < 60', 'cpp', 'lower'],
    ['ABP mean low', 'map', 'lower'],
    ['MAP', 'map', null],
    ['Heart rate ↑', 'hr', 'upper'],
    ['Intracranial pressure too high', 'icp', 'upper'],
    ['Asystole', null, null],
    ['ICP no transducer', null, null],
    ['NIBP mean low', null, 'lower'],
  ])('of "%s"', (text, channel, side) => {
    expect(alarmParameter(text)).toEqual({ text, channel, side });
  });

  test('may stand in the message alone', async () => {
    const { rows } = await read('alarms', alarms('Message', 'ICP high', 'Probe off'));
    expect(rows.map(({ parameter, message }) => [parameter.channel, message])).toEqual([
      ['icp', 'ICP high'],
      [null, 'Probe off'],
    ]);
  });
});

describe('the limit', () => {
  test.each([
    ['Limit (mmHg)', '22', 22],
    ['Limit (kPa)', '3', 22.5018],
    ['Limit', '30 cmH2O', 22.0668],
    ['Limit', '> 22.5 mmHg', 22.5],
  ])('under %s, as %s', async (header, cell, value) => {
    const { rows } = await read('alarms', alarms(`Parameter,${header}`, `ICP,${cell}`));
    expect(rows[0].limit?.value).toBeCloseTo(value, 3);
    expect(rows[0].limit?.unit).toBe('mm[Hg]');
  });

  test('takes its unit from a column of units, row by row', async () => {
    const { rows } = await read(
      'alarms',
      alarms('Parameter,Limit,Unit', 'ICP,22,mmHg', 'ICP,3,kPa', 'HR,120,/min', 'HR,130,', 'Foo,1,L'),
    );
    expect(rows.map(({ limit }) => [Number(limit?.value?.toFixed(3)), limit?.unit])).toEqual([
      [22, 'mm[Hg]'],
      [22.502, 'mm[Hg]'],
      [120, '/min'],
      [130, '/min'],
      [1, 'L'],
    ]);
  });

  test('is left out, with a warning, where the header has the unit of other parameters', async () => {
    const { rows, warnings } = await read(
      'alarms',
      alarms('Parameter,Limit (mmHg)', 'ICP,22', 'HR,120', 'HR,120'),
    );
    expect(rows.map(({ limit }) => limit?.value)).toEqual([22, null, null]);
    expect(warnings).toEqual([
      'the limit of "HR" is left out: mmHg is no unit of heart rate (line 3 and 1 more row).',
    ]);
  });

  test('is asked for its unit, as any pressure', async () => {
    const content = alarms('Parameter,Limit', 'ICP,22');
    expect(await whyRefused('alarms', content)).toBe(
      'a.csv, line 2, column "Limit": its unit is not given. Write it into the header, as in "Limit (mmHg)", or into the pipeline file, as columns: {limit: {unit: mmHg}}.',
    );
    const { rows } = await read('alarms', content, { columns: { limit: { unit: 'mmHg' } } });
    expect(rows[0].limit?.value).toBe(22);
  });

  test('that is no number sets the row aside', async () => {
    const table = await read(
      'alarms',
      alarms(
        'Parameter,Limit (mmHg)',
        'ICP,22',
        'ICP,5-22',
        'ICP,off',
        'ICP,"22,5"',
        'ICP,22.5',
        'ICP,22',
        'ICP,',
        'ICP,---',
      ),
    );
    expect(asides(table)).toEqual([
      [3, 'unreadable', 'column "Limit (mmHg)": "5-22" is not a number'],
      [4, 'unreadable', 'column "Limit (mmHg)": "off" is not a number'],
      [
        6,
        'unreadable',
        'column "Limit (mmHg)": "22.5" is written with a decimal point, and line 5 with a decimal comma',
      ],
    ]);
  });

  test('has its side from a column, its sign or the parameter, which may not contradict', async () => {
    const table = await read(
      'alarms',
      alarms(
        'Parameter,Limit (mmHg),Direction',
        'ICP,22,upper',
        'CPP,<60,',
        'CPP low,60,',
        'ICP,22,',
        'ICP high,22,low',
        'ICP low,>22,',
      ),
    );
    expect(table.rows.map(({ side }) => side)).toEqual(['upper', 'lower', 'lower', null]);
    expect(asides(table)).toEqual([
      [6, 'conflict', 'one cell says the upper limit, and another the lower one'],
      [7, 'conflict', 'one cell says the upper limit, and another the lower one'],
    ]);
  });
});

describe('the priority', () => {
  test.each([
    ['high', 'high'],
    ['HIGH', 'high'],
    ['High priority', 'high'],
    ['red', 'high'],
    ['medium', 'medium'],
    ['Med', 'medium'],
    ['yellow', 'medium'],
    ['low', 'low'],
    ['Cyan', 'low'],
  ])('%s is %s', async (text, priority) => {
    const { rows } = await read('alarms', alarms('Parameter,Priority', `ICP,${text}`));
    expect(rows[0].priority).toBe(priority);
  });

  test('in other words is what the pipeline file says', async () => {
    const content = alarms('Parameter,Priority', 'ICP,1', 'ICP,high');
    const { rows } = await read('alarms', content, { columns: { priority: { words: { '1': 'high' } } } });
    expect(rows.map(({ priority }) => priority)).toEqual(['high', 'high']);
    const { setAside } = await read('alarms', content);
    expect(setAside).toMatchObject([
      {
        line: 2,
        reason: 'column "Priority": "1" is none of high, medium, low',
        fix: 'Correct the cell, or say what it means in the pipeline file, as columns: {priority: {words: {"...": high}}}.',
      },
    ]);
    expect(await whyRefused('alarms', content, { columns: { priority: { words: { '1': 'top' } } } })).toBe(
      'a.csv, line 1, column "Priority": "top" is none of high, medium, low, which columns: {priority: {words: ...}} may name. Correct the pipeline file.',
    );
  });
});
