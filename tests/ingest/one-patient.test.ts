import { describe, expect, test } from 'vitest';
import { ingestFiles, ingestOne, wall, whyFailed } from './support.js';

/** A file with a column that names something in each row. */
const fileWith = (header: string, names: readonly string[]): string =>
  `Time,${header},ICP (mmHg)\n${names.map((name, i) => `${wall(Date.UTC(2031, 1, 11, 2, 0, i))},${name},12\n`).join('')}`;

const message = (line: number, header: string, a: string, b: string): string =>
  `a.csv, line ${line}, column "${header}": the rows name more than one: "${a}" (line 2) and "${b}", in what is read as one patient. Say in the pipeline file patient: {column: ${header}}, or tell the files or parts apart.`;

describe('a file that is read as one patient', () => {
  test.each(['Bed', 'Patient', 'Patient ID', 'MRN', 'patient_id', 'Room'])(
    'fails where %s changes',
    async (header) => {
      expect(await whyFailed(fileWith(header, ['1', '1', '', '2', '1']))).toBe(message(5, header, '1', '2'));
    },
  );

  test('is read where the column says the same throughout, blanks aside', async () => {
    const outcome = await ingestOne(fileWith('Bed', ['1', '', '1']));
    expect(outcome.problem).toBeNull();
  });

  test('may change beds where the pipeline file says whose it is, but not patients', async () => {
    const patient = { id: '7' };
    expect((await ingestOne(fileWith('Bed', ['1', '2']), { patient })).problem).toBeNull();
    expect((await ingestOne(fileWith('MRN', ['1', '2']), { patient })).problem).toBe(
      message(3, 'MRN', '1', '2'),
    );
  });

  test.each(['Patient name', 'ID', 'Encounter ID', 'Patientennummer'])(
    'fails where %s changes, which may be another patient',
    async (header) => {
      expect(await whyFailed(fileWith(header, ['1', '2']))).toBe(message(3, header, '1', '2'));
    },
  );

  test('fails where the times begin with a word', async () => {
    const rows = ['Feb 11 2031 19:00:00,7,12', 'Feb 11 2031 19:01:00,8,12'];
    expect(await whyFailed(`Time,Patient,ICP (mmHg)\n${rows.join('\n')}\n`)).toBe(
      message(3, 'Patient', '7', '8'),
    );
  });

  test('fails where two files of a patient name two', async () => {
    const files = {
      'bed-3-mon.csv': fileWith('Patient', ['7']),
      'bed-3-tue.csv': fileWith('Patient', ['8']),
    };
    const [{ problem }] = await ingestFiles(files, { patient: { fileName: '^bed-(\\d+)' } });
    expect(problem).toContain('the rows name more than one: "7" (line 2 of bed-3-mon.csv) and "8"');
  });

  test('fails where lines above a second header name another patient, or another start', async () => {
    const rows = (hour: number): string => `${wall(Date.UTC(2031, 1, 11, hour))},12\n`;
    const part = (patient: string, hour: number): string =>
      `Patient ID,${patient}\nTime,ICP (mmHg)\n${rows(hour)}`;
    expect(await whyFailed(part('7', 2) + part('8', 3))).toContain('"7" (line 1) and "8"');
    expect(await whyFailed(part('7', 2) + part('7', 3))).toBeNull();
    const elapsed = (start: string): string => `Start: ${start},\nElapsed (s),ICP (mmHg)\n0,12\n1,13\n`;
    expect(await whyFailed(elapsed('2031-02-11 19:00') + elapsed('2031-02-12 19:00'))).toContain(
      'another start is given here, "2031-02-12 19:00", than in line 1, "2031-02-11 19:00"',
    );
  });

  test('may hold other columns that change', async () => {
    expect((await ingestOne(fileWith('Note', ['a', 'b']))).problem).toBeNull();
  });
});
