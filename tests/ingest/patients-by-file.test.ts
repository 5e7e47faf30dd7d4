import { describe, expect, test } from 'vitest';
import type { ExportFile } from '../../src/ingest/find-exports.js';
import { groupByPatient } from '../../src/ingest/group-files.js';
import type { PatientSource } from '../../src/ingest/settings.js';
import { problemOf, settingsWith } from './support.js';

const file = (name: string): ExportFile => ({ path: `/exports/${name}`, name });

/** Names of the files by patient, and of those that the pattern does not fit. */
const group = (patient: PatientSource | undefined, ...names: string[]) => {
  const { groups, unfit } = groupByPatient(names.map(file), settingsWith({ patient }));
  return {
    groups: groups.map(({ id, files }) => [id, ...files.map(({ name }) => name)]),
    unfit: unfit.map(({ name }) => name),
  };
};

describe('files without a patient setting', () => {
  test('are a patient each, named as the file without its endings', () => {
    expect(group(undefined, '007.csv', '7.csv.gz', 'night 1/8.CSV', 'a.b.csv')).toEqual({
      groups: [
        ['007', '007.csv'],
        ['7', '7.csv.gz'],
        ['8', 'night 1/8.CSV'],
        ['a.b', 'a.b.csv'],
      ],
      unfit: [],
    });
  });

  test('are refused where two would be the same patient, since nobody said that they are', async () => {
    const fix =
      'Say in the pipeline file whose they are, as patient: {fileName: ...} or {column: ...}, or rename one.';
    expect(await problemOf(() => group(undefined, 'w1/7.csv', 'w2/7.csv'))).toBe(
      `w1/7.csv and w2/7.csv would both be patient "7". ${fix}`,
    );
    expect(await problemOf(() => group(undefined, '7.csv', '7.csv.gz'))).toBe(
      `7.csv and 7.csv.gz would both be patient "7". ${fix}`,
    );
  });

  test('name no patient where nothing stands before the ending', () => {
    expect(group(undefined, '.csv', 'x/.csv.gz').unfit).toEqual(['.csv', 'x/.csv.gz']);
  });

  test('may have names that a plain object would stumble over', () => {
    expect(group(undefined, '__proto__.csv', 'constructor.csv').groups.map(([id]) => id)).toEqual([
      '__proto__',
      'constructor',
    ]);
  });
});

describe('a pattern for file names', () => {
  test('joins the files whose first group is the same text', () => {
    expect(group({ fileName: '^patient-(\\d+)' }, 'patient-007-a.csv', 'patient-007-b.csv.gz')).toEqual({
      groups: [['007', 'patient-007-a.csv', 'patient-007-b.csv.gz']],
      unfit: [],
    });
  });

  test('keeps ids as text, so that 007 and 7 are two patients', () => {
    expect(group({ fileName: '\\d+' }, '007.csv', '7.csv').groups.map(([id]) => id)).toEqual(['007', '7']);
  });

  test('takes the whole match where it has no group', () => {
    expect(group({ fileName: 'bed\\d+' }, 'icu-bed12-night.csv').groups).toEqual([
      ['bed12', 'icu-bed12-night.csv'],
    ]);
  });

  test('is held against the name without its folders', () => {
    expect(group({ fileName: '^(\\d+)' }, '2031-02/17-a.csv', '2031-03/17-b.csv').groups).toEqual([
      ['17', '2031-02/17-a.csv', '2031-03/17-b.csv'],
    ]);
  });

  test('leaves files that it does not fit to be named', () => {
    expect(group({ fileName: '^bed(\\d*)' }, 'bed1.csv', 'summary.csv', 'bed.csv')).toEqual({
      groups: [['1', 'bed1.csv']],
      unfit: ['summary.csv', 'bed.csv'],
    });
  });

  test('may hold brackets that are meant as they stand', () => {
    expect(group({ fileName: '^(.+) \\(\\d+\\)\\.csv$' }, 'bed 4 (1).csv', 'bed 4 (2).csv').groups).toEqual([
      ['bed 4', 'bed 4 (1).csv', 'bed 4 (2).csv'],
    ]);
  });

  test('is refused where it is no regular expression', async () => {
    expect(await problemOf(() => group({ fileName: 'bed[(' }, 'bed1.csv'))).toBe(
      'patient: {fileName: "bed[("} is no regular expression. Brackets that are meant as they stand need a backslash, as in \\(1\\).',
    );
  });
});

describe('one patient for all files', () => {
  test('is the id as it stands', () => {
    expect(group({ id: '007' }, 'b.csv', 'a.csv').groups).toEqual([['007', 'b.csv', 'a.csv']]);
  });
});

describe('a patient column', () => {
  test('leaves the files together and unnamed', () => {
    expect(group({ column: 'Bed' }, 'a.csv', 'x/a.csv').groups).toEqual([[null, 'a.csv', 'x/a.csv']]);
  });
});
