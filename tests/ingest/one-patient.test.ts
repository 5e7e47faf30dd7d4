import { describe, expect, test } from 'vitest';
import { ingestOne, wall, whyFailed } from './support.js';

/** A file with a column that names something in each row. */
const fileWith = (header: string, names: readonly string[]): string =>
  `Time,${header},ICP (mmHg)\n${names.map((name, i) => `${wall(Date.UTC(2031, 1, 11, 2, 0, i))},${name},12\n`).join('')}`;

const message = (line: number, header: string, a: string, b: string): string =>
  `a.csv, line ${line}, column "${header}": the rows name more than one: "${a}" and "${b}", in a file that is read as one patient. Say in the pipeline file patient: {column: ${header}}, or split the file.`;

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

  test('may hold other columns that change', async () => {
    expect((await ingestOne(fileWith('Note', ['a', 'b']))).problem).toBeNull();
  });
});
