import { describe, expect, test } from 'vitest';
import { occupancyOf, patientAt, patientsOfRows } from '../../../src/ingest/tables/patient-at.js';
import { ZoneClock } from '../../../src/recording/zone.js';
import { asides, read } from './support.js';

const clock = new ZoneClock('Europe/Oslo');
const oslo = { zone: 'Europe/Oslo' };
const beds = (...rows: string[]): string =>
  `Patient,Bed,Unit,From,To\n${rows.map((row) => `${row}\n`).join('')}`;
const at = (local: string): number => Date.parse(`${local.replace(' ', 'T')}:00+01:00`);

describe('the table of beds', () => {
  test('is read; a blank end means that the patient still lies there', async () => {
    const { rows, counts } = await read(
      'occupancy',
      beds('007,4,A,2031-02-10 08:00,2031-02-12 09:00', '8,4,A,2031-02-12 09:00,'),
      oslo,
    );
    expect(rows.map(({ file, line, ...stay }) => stay)).toEqual([
      {
        patient: '007',
        bed: '4',
        unit: 'A',
        fromUtcMs: at('2031-02-10 08:00'),
        toUtcMs: at('2031-02-12 09:00'),
      },
      { patient: '8', bed: '4', unit: 'A', fromUtcMs: at('2031-02-12 09:00'), toUtcMs: null },
    ]);
    expect(counts).toEqual([{ what: 'bed 4', rows: 2 }]);
  });

  test('sets aside two patients in one bed, each with the line of the other', async () => {
    const table = await read(
      'occupancy',
      beds(
        '7,4,A,2031-02-10 08:00,',
        '8,Bed 4,A,2031-02-12 09:00,',
        '9,4,B,2031-02-12 09:00,',
        '9,5,,2031-02-12 09:00,',
      ),
      oslo,
    );
    expect(asides(table)).toEqual([
      [
        2,
        'conflict',
        'patient "7" lies in bed "4" at the same time as patient "8" on line 3, from 2031-02-12T09:00:00+01:00',
      ],
      [
        3,
        'conflict',
        'patient "8" lies in bed "Bed 4" at the same time as patient "7" on line 2, from 2031-02-12T09:00:00+01:00',
      ],
    ]);
    expect(table.contradicting.map(({ patient }) => patient)).toEqual(['7', '8']);
  });

  test('sets aside what has no end of a date, or ends before it begins', async () => {
    const table = await read(
      'occupancy',
      beds(
        '7,4,,2031-02-10 08:00,2031-02-09 08:00',
        '8,5,,2031-02-10,',
        '9,6,,2031-02-10 08:00,',
        '9,7,,2031-02-11 08:00,',
      ),
      oslo,
    );
    expect(asides(table)).toEqual([
      [2, 'order', 'column "To": "2031-02-09 08:00" is before "From", "2031-02-10 08:00"'],
      [3, 'unreadable', 'column "From": "2031-02-10" is a date without a time of day'],
    ]);
  });
});

describe('the patient of a bed', () => {
  const occupancy = async (...rows: string[]) =>
    occupancyOf([await read('occupancy', beds(...rows), oslo)], clock);

  test.each([
    ['2031-02-10 08:00', { patient: '7' }],
    ['2031-02-12 08:59', { patient: '7' }],
    ['2031-02-12 09:00', { patient: '8' }],
    ['2031-02-10 07:59', { reason: 'bed "4" was empty at 2031-02-10T07:59:00+01:00' }],
    ['2031-02-13 00:00', { reason: 'bed "4" was empty at 2031-02-13T00:00:00+01:00' }],
    ['2031-02-20 00:00', { patient: '9' }],
  ])('at %s', async (local, answer) => {
    const table = await occupancy(
      '7,4,,2031-02-10 08:00,2031-02-12 09:00',
      '8,4,,2031-02-12 09:00,2031-02-13 00:00',
      '9,4,,2031-02-14 00:00,',
    );
    expect(patientAt(table, '4', at(local))).toEqual(answer);
    expect(patientAt(table, 'Bed 4', at(local))).toEqual(
      JSON.parse(JSON.stringify(answer).replace('bed \\"4\\"', 'bed \\"Bed 4\\"')),
    );
  });

  test('is not named where the table contradicts itself, lacks the bed, or has it in two units', async () => {
    const table = await occupancy(
      '7,4,,2031-02-10 08:00,',
      '8,4,,2031-02-12 09:00,',
      '9,5,A,2031-02-10 08:00,',
      '10,5,B,2031-02-10 08:00,',
    );
    const instant = at('2031-02-13 00:00');
    expect(patientAt(table, '4', instant)).toEqual({
      reason:
        'nobody can say who lay in bed "4" at 2031-02-13T00:00:00+01:00: see line 2 of a.csv and line 3 of a.csv',
    });
    expect(patientAt(table, '6', instant)).toEqual({ reason: 'bed "6" is not in the table of beds' });
    expect(patientAt(table, '5', instant)).toEqual({
      reason:
        'bed "5" stands in more than one unit, and the row does not say in which: see line 4 of a.csv and line 5 of a.csv',
    });
    expect(patientAt(table, '5', instant, 'B')).toEqual({ patient: '10' });
    expect(patientAt(null, '5', instant)).toEqual({
      reason: 'the row names only a bed, and no table of beds is given',
    });
  });

  test('is not named where two files contradict each other', async () => {
    const one = await read('occupancy', beds('7,4,,2031-02-10 08:00,'), oslo);
    const other = await read('occupancy', beds('8,4,,2031-02-12 09:00,'), oslo);
    const renamed = { ...other, rows: other.rows.map((row) => ({ ...row, file: 'b.csv' })) };
    const { setAside } = occupancyOf([one, renamed], clock);
    expect(setAside.map(({ file, line, reason }) => [file, line, reason])).toEqual([
      [
        'a.csv',
        2,
        'patient "7" lies in bed "4" at the same time as patient "8" on line 2 of b.csv, from 2031-02-12T09:00:00+01:00',
      ],
      [
        'b.csv',
        2,
        'patient "8" lies in bed "4" at the same time as patient "7" on line 2 of a.csv, from 2031-02-12T09:00:00+01:00',
      ],
    ]);
  });

  test('is found for each row of a log, or the row is set aside', async () => {
    const table = await occupancy('7,4,,2031-02-10 08:00,2031-02-12 09:00', '8,5,,2031-02-10 08:00,');
    const log = await read(
      'alarms',
      'Patient,Bed,Onset,Parameter\n,4,2031-02-11 00:00,ICP\n,4,2031-02-12 09:00,ICP\n8,,2031-02-11 00:00,ICP\n9,5,2031-02-11 00:00,ICP\n',
      oslo,
    );
    const { rows, setAside, warnings } = patientsOfRows(log.rows, ({ onsetUtcMs }) => onsetUtcMs, table);
    expect(rows.map(({ line, patient }) => [line, patient])).toEqual([
      [2, '7'],
      [4, '8'],
      [5, '9'],
    ]);
    expect(setAside).toEqual([
      {
        file: 'a.csv',
        line: 3,
        rows: 1,
        kind: 'unused',
        reason: 'bed "4" was empty at 2031-02-12T09:00:00+01:00',
        fix: 'Give the table of beds as occupancy in the pipeline file, complete it, or export the log with patients.',
      },
    ]);
    expect(rows.length + setAside.length).toBe(log.rows.length);
    expect(warnings).toEqual([
      'The table of beds has another patient in the bed than the log names (line 5 of a.csv); the log is believed.',
    ]);
  });
});
