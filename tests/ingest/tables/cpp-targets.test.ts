import { describe, expect, it, test } from 'vitest';
import type { TargetRow } from '../../../src/ingest/tables/cpp-targets.js';
import { readTargets, targetsByPatient } from '../../../src/ingest/tables/read-targets.js';
import type { TableSettings } from '../../../src/ingest/tables/table-settings.js';
import { problemOf } from '../support.js';
import { fileOf, iso, tableSettings } from './support.js';

const HEADER = 'patient,from,CPP target (mmHg)';
const table = (...rows: string[]): string => `${[HEADER, ...rows].join('\n')}\n`;
const read = (text: string, more: Partial<TableSettings> = {}) =>
  readTargets(fileOf(text), tableSettings({ zone: 'Europe/Oslo', ...more }));
const why = (text: string, more: Partial<TableSettings> = {}): Promise<string> =>
  problemOf(() => read(text, more));
const plain = ({ patient, from, cppBelowMmHg, line }: TargetRow) => [patient, iso(from), cppBelowMmHg, line];

describe('a table of CPP targets', () => {
  it('says from when on which target holds; blank is from the start, a day from its first hour', async () => {
    const { rows, rowsRead, setAside } = await read(
      table('007,,65', '007,2031-02-12 02:00,70', '9,2031-02-12,55.5'),
    );
    expect(rows.map(plain)).toEqual([
      ['007', null, 65, 2],
      ['007', '2031-02-12T01:00:00Z', 70, 3],
      ['9', '2031-02-11T23:00:00Z', 55.5, 4],
    ]);
    expect([rowsRead, setAside]).toEqual([3, []]);
  });
  it('may do without times, and give its pressures in another unit', async () => {
    const { rows } = await read('Pat-ID;CPP lower limit (kPa)\n7;8,0\n');
    expect(rows[0]).toMatchObject({ patient: '7', from: null });
    expect(rows[0].cppBelowMmHg).toBeCloseTo(60.005, 3);
  });
  it('takes dates in the order that it is told', async () => {
    const { rows } = await read(table('7,03/04/2031,60'), { order: 'dayFirst' });
    expect(iso(rows[0].from)).toBe('2031-04-02T22:00:00Z');
  });
  it('may say until when a target holds; a day to its last hour', async () => {
    const ends = async (...rows: string[]) => {
      const { rows: read1 } = await read(`patient,from,to,CPP target (mmHg)\n${rows.join('\n')}\n`);
      return read1.map(({ until }) => iso(until));
    };
    expect(
      await ends(
        '7,2031-02-11,2031-02-11,65',
        '7,2031-02-12 02:00,2031-02-12 04:00,70',
        '8,2031-02-12 02:00,,70',
        '9,,2031-02-12 04:00,70',
      ),
    ).toEqual(['2031-02-11T23:00:00Z', '2031-02-12T03:00:00Z', null, '2031-02-12T03:00:00Z']);
    const head = 'patient,from,until,CPP target (mmHg)\n';
    expect(await why(`${head}7,2031-02-12 02:00,2031-02-12 01:00,65\n8,,,60\n`)).toContain(
      'a.csv, line 2: column "until": "2031-02-12 01:00" is before "from", "2031-02-12 02:00".',
    );
    expect(await why(`${head}7,2031-02-12 02:00,2031-02-12 02:00,65\n8,,,60\n`)).toBe(
      'a.csv, line 2: the target ends when it begins. Correct one of the two times.',
    );
  });
  it('passes over a row that stands twice', async () => {
    const { rows, setAside } = await read(table('7,,60', '7,,60'));
    expect(rows).toHaveLength(1);
    expect(setAside).toMatchObject([{ line: 3, kind: 'repeat' }]);
  });

  it.each([
    [
      table('7,,60', '7,2031-02-12 02:00,sixty'),
      'a.csv, line 3: column "CPP target (mmHg)": "sixty" is not a number. A target that is no such pressure cannot count: write one, such as 60; a row without a target has to go.',
    ],
    [table('7,,60', '7,soon,65'), 'a.csv, line 3: column "from": "soon" is no time that can be read.'],
    [table('7,,60', '7,2031-02-12 02:00,'), 'a.csv, line 3: column "CPP target (mmHg)": it is blank.'],
    [table('7,,60', ',2031-02-12 02:00,65'), 'a.csv, line 3: column "patient": it is blank.'],
    [
      table('7,,600', '8,,60', '9,,60'),
      'a.csv, line 2: column "CPP target (mmHg)": 600 lies outside 20 to 150.',
    ],
    [table('7,,60', '7,2031-02-12 02:00'), 'a.csv, line 3: 2 cells where the header has 3.'],
    [
      table('7,,650'),
      'a.csv, line 2: the only row cannot be used: column "CPP target (mmHg)": 650 lies outside 20 to 150. A target that is no such pressure cannot count: write one, such as 60; a row without a target has to go.',
    ],
    [
      table('7,03/04/2031,60'),
      'a.csv, line 1, column "from": the date can be read two ways, and no other row settles it: "03/04/2031" (line 2) is 3 April 2031 with the day first, and 4 March 2031 with the month first. Say which in the pipeline file, as columns: {from: {order: dayFirst}} or {order: monthFirst}.',
    ],
    ['patient,from\n7,\n', 'there is no column for the lower target of CPP.'],
    ['patient,from,CPP target\n7,,60\n', 'its unit is not given.'],
  ])('refuses a row that cannot be used: %j', async (text, message) => {
    expect(await why(text)).toContain(message);
  });
});

describe('targets of patients', () => {
  const row = (
    patient: string,
    from: number | null,
    cppBelowMmHg: number,
    line: number,
    until: number | null = null,
  ): TargetRow => ({
    file: 'a.csv',
    line,
    patient,
    from,
    until,
    cppBelowMmHg,
  });
  it('stand in the order of their times, the one from the start first', () => {
    const found = targetsByPatient([row('7', 5, 70, 2), row('9', 1, 60, 3), row('7', null, 60, 4)]);
    expect(found.get('7')?.map(({ line }) => line)).toEqual([4, 2]);
    expect([...found.keys()]).toEqual(['7', '9']);
  });
  it('may stand twice where they say the same', () => {
    expect(targetsByPatient([row('7', 5, 70, 2), row('7', 5, 70, 3)]).get('7')).toHaveLength(1);
  });
  test('one that begins before the end that another gives is refused with both lines', async () => {
    expect(targetsByPatient([row('7', 5, 70, 2, 8), row('7', 8, 65, 3)]).get('7')).toHaveLength(2);
    const message = await problemOf(async () => {
      targetsByPatient([row('7', 7, 65, 2), row('7', 5, 70, 3, 8)]);
    });
    expect(message).toBe(
      'a.csv, line 3: the target of patient "7" here ends after the one on line 2 begins, so nobody can say which holds. End the first where the second begins, or leave its end blank: it then holds until the next one.',
    );
  });
  test('two of one time that differ are refused with both lines', async () => {
    const message = await problemOf(async () => {
      targetsByPatient([row('7', null, 60, 2), row('7', null, 65, 5)]);
    });
    expect(message).toBe(
      'a.csv, line 2: 60 mmHg here and 65 mmHg on line 5 are targets of patient "7" from the same time on. Only one can hold: take out the other, or change its time.',
    );
  });
});
