import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AgeFrom,
  type CriteriaRow,
  monitoringCriteria,
} from '../../../src/summarize/study/monitoring-criteria.js';
import { holds } from '../../support/properties.js';

const SEVERE: CriteriaRow = {
  gcsTotal: 6,
  gcsMotor: 4,
  ct: 'normal',
  ageYears: 30,
  posturing: false,
  sbpMmHg: 120,
};
const told = (row: Partial<CriteriaRow>, ageFrom: AgeFrom = 'over40') => {
  const { status, missing } = monitoringCriteria({ ...SEVERE, ...row }, { ageFrom });
  return [status, ...missing].join(' ');
};

/** The sentence of the guideline on a row without blanks. */
const bySentence = (
  { gcsTotal, ct, ageYears, posturing, sbpMmHg }: CriteriaRow,
  ageFrom: AgeFrom,
): boolean => {
  if (gcsTotal! > 8) return false;
  if (ct === 'abnormal') return true;
  let risks = 0;
  if (ageFrom === 'over40' ? ageYears! > 40 : ageYears! >= 40) risks++;
  if (posturing) risks++;
  if (sbpMmHg! < 90) risks++;
  return risks > 1;
};

const maybe = <T>(of: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(of, { freq: 3 });
const full = {
  gcsTotal: fc.constantFrom(3, 8, 9, 15),
  ct: fc.constantFrom('normal' as const, 'abnormal' as const),
  ageYears: fc.constantFrom(20, 40, 41),
  posturing: fc.boolean(),
  sbpMmHg: fc.constantFrom(89, 90, 130),
};
const choices = {
  gcsTotal: [3, 9],
  ct: ['normal', 'abnormal'],
  ageYears: [20, 60],
  posturing: [false, true],
  sbpMmHg: [80, 130],
} as const;

describe('criteria for monitoring', () => {
  it('are met by an abnormal CT, or by two of three beside a normal one', () => {
    expect(told({ ct: 'abnormal' })).toBe('met');
    expect(told({})).toBe('notMet');
    expect(told({ ageYears: 41 })).toBe('notMet');
    expect(told({ ageYears: 41, sbpMmHg: 89 })).toBe('met');
    expect(told({ posturing: true, sbpMmHg: 89 })).toBe('met');
    expect(told({ ct: 'abnormal', gcsTotal: 9 })).toBe('notMet');
    expect(told({ posturing: true, sbpMmHg: 90 })).toBe('notMet');
  });
  it('count age 40 where that was asked for', () => {
    expect(told({ ageYears: 40, posturing: true })).toBe('notMet');
    expect(told({ ageYears: 40, posturing: true }, 'from40')).toBe('met');
  });
  it('cannot be told where a blank field decides, which is named', () => {
    expect(told({ gcsTotal: null, ct: 'abnormal' })).toBe('cannotTell gcsTotal');
    expect(told({ ct: null })).toBe('cannotTell ct');
    expect(told({ ageYears: null, posturing: true })).toBe('cannotTell ageYears');
    expect(told({ gcsTotal: null, ct: null, ageYears: null, posturing: null, sbpMmHg: null })).toBe(
      'cannotTell gcsTotal ct ageYears posturing sbpMmHg',
    );
  });
  it('can be told where a blank field does not decide', () => {
    expect(told({ ct: 'abnormal', ageYears: null, sbpMmHg: null, posturing: null })).toBe('met');
    expect(told({ ct: null, ageYears: 50, sbpMmHg: 80 })).toBe('met');
    expect(told({ gcsTotal: null, ageYears: null })).toBe('notMet');
    expect(told({ gcsTotal: 12, ct: null, ageYears: null })).toBe('notMet');
  });
  it('take a best motor response of 2 or 3 for posturing where the column is blank, and no other', () => {
    expect(told({ posturing: null, gcsMotor: 3, ageYears: 50 })).toBe('met');
    expect(told({ posturing: null, gcsMotor: 2, ageYears: 50 })).toBe('met');
    expect(told({ posturing: null, gcsMotor: 5, ageYears: 50 })).toBe('cannotTell posturing');
    expect(told({ posturing: false, gcsMotor: 3, ageYears: 50 })).toBe('notMet');
  });
  it('are what the sentence of the guideline says of a row without blanks', () => {
    const rows = fc.record({ ...full, gcsMotor: fc.constant(null) });
    holds(
      fc.property(rows, fc.constantFrom('over40' as const, 'from40' as const), (row, ageFrom) => {
        expect(monitoringCriteria(row, { ageFrom })).toEqual({
          status: bySentence(row, ageFrom) ? 'met' : 'notMet',
          missing: [],
        });
      }),
    );
  });
  it('are told exactly where the sentence says the same however the blanks are filled in', () => {
    const rows = fc.record({
      gcsTotal: maybe(full.gcsTotal),
      ct: maybe(full.ct),
      ageYears: maybe(full.ageYears),
      posturing: maybe(full.posturing),
      sbpMmHg: maybe(full.sbpMmHg),
    });
    holds(
      fc.property(rows, (row) => {
        let filled: CriteriaRow[] = [{ ...row, gcsMotor: null }];
        for (const [key, values] of Object.entries(choices)) {
          if (row[key as keyof typeof row] !== null) continue;
          filled = filled.flatMap((one) => values.map((value) => ({ ...one, [key]: value })));
        }
        const answers = new Set(filled.map((one) => bySentence(one, 'over40')));
        const { status, missing } = monitoringCriteria({ ...row, gcsMotor: null }, { ageFrom: 'over40' });
        expect(status).toBe(answers.size === 2 ? 'cannotTell' : answers.has(true) ? 'met' : 'notMet');
        expect(missing.length > 0).toBe(answers.size === 2);
        missing.forEach((field) => {
          expect(row[field]).toBeNull();
        });
      }),
    );
  });
});
