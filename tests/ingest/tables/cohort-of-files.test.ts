import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { CohortRow } from '../../../src/ingest/tables/cohort.js';
import { cohortOfFiles } from '../../../src/ingest/tables/cohort-of-files.js';
import { cohortRow } from '../../support/invented-study.js';
import { holds } from '../../support/properties.js';

const row = (file: string, line: number, id: string, more: Partial<CohortRow> = {}): CohortRow =>
  cohortRow({ file: `${file}.csv`, line, id, ...more });

describe('the cohort of several files', () => {
  test('has a patient once whom two files hold alike, and says where the row stood before', () => {
    const { rows, setAside } = cohortOfFiles([
      [row('a', 2, '1', { ageYears: 40 }), row('a', 3, '2')],
      [row('b', 2, '3'), row('b', 7, '1', { ageYears: 40 })],
    ]);
    expect([...rows.keys()]).toEqual(['1', '2', '3']);
    expect(rows.get('1')).toMatchObject({ file: 'a.csv', line: 2, ageYears: 40 });
    expect(setAside).toEqual([
      {
        file: 'b.csv',
        line: 7,
        rows: 1,
        kind: 'repeat',
        reason: 'the same as line 2 of a.csv, and nothing new',
      },
    ]);
  });

  test('has no patient of whom the files contradict each other: all such rows are set aside', () => {
    const { rows, setAside } = cohortOfFiles([
      [row('a', 2, '1', { ageYears: 40 }), row('a', 3, '2')],
      [row('b', 5, '1', { ageYears: 41 })],
      [row('c', 9, '1', { ageYears: 42 })],
    ]);
    expect([...rows.keys()]).toEqual(['2']);
    const fix = 'A patient has one row: remove or correct the others.';
    const conflict = { rows: 1, kind: 'conflict', fix };
    expect(setAside).toEqual([
      {
        file: 'a.csv',
        line: 2,
        ...conflict,
        reason: 'patient "1" stands on line 5 of b.csv and line 9 of c.csv with other cells',
      },
      {
        file: 'b.csv',
        line: 5,
        ...conflict,
        reason: 'patient "1" stands on line 2 of a.csv and line 9 of c.csv with other cells',
      },
      {
        file: 'c.csv',
        line: 9,
        ...conflict,
        reason: 'patient "1" stands on line 2 of a.csv and line 5 of b.csv with other cells',
      },
    ]);
  });

  test('does not take a contradiction for settled because one of its sides comes twice', () => {
    const { rows, setAside } = cohortOfFiles([
      [row('a', 2, '1', { ageYears: 40 })],
      [row('b', 2, '1', { ageYears: 41 })],
      [row('c', 2, '1', { ageYears: 41 })],
    ]);
    expect(rows.size).toBe(0);
    expect(setAside.map(({ file, kind }) => [file, kind])).toEqual([
      ['c.csv', 'repeat'],
      ['a.csv', 'conflict'],
      ['b.csv', 'conflict'],
    ]);
  });

  test('of no file, and of one file, is what is read', () => {
    expect(cohortOfFiles([])).toEqual({ rows: new Map(), setAside: [] });
    const one = [row('a', 2, '1'), row('a', 3, '2')];
    expect([...cohortOfFiles([one]).rows.values()]).toEqual(one);
  });

  test('accounts for each row: used once or set aside once', () => {
    const cell = fc.record({ id: fc.constantFrom('1', '2', '3', '4'), age: fc.constantFrom(30, 31) });
    const file = fc.uniqueArray(cell, { selector: ({ id }) => id, maxLength: 4 });
    holds(
      fc.property(fc.array(file, { maxLength: 5 }), (files) => {
        const all = files.map((cells, f) =>
          cells.map(({ id, age }, i) => row(`f${f}`, i + 2, id, { ageYears: age })),
        );
        const { rows, setAside } = cohortOfFiles(all);
        const places = [...rows.values(), ...setAside].map((one) => `${one.file} ${one.line}`);
        const given = all.flat().map((one) => `${one.file} ${one.line}`);
        expect([...places].sort()).toEqual([...given].sort());
        for (const id of ['1', '2', '3', '4']) {
          const ages = new Set(
            all
              .flat()
              .filter((one) => one.id === id)
              .map(({ ageYears }) => ageYears),
          );
          expect(rows.has(id)).toBe(ages.size === 1);
        }
      }),
    );
  });
});
