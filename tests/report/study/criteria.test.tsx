import { describe, expect, it } from 'vitest';
import type { CohortRow } from '../../../src/ingest/tables/cohort.js';
import { studyCriteria } from '../../../src/report/results-study-cohort.js';
import { criteriaResult } from '../../../src/report/study/criteria-result.js';
import { CriteriaSection } from '../../../src/report/study/criteria-section.js';
import { smallStudy, textOf } from './small-cohort.js';

const severe: Partial<CohortRow> = {
  gcsTotal: 6,
  gcsMotor: 4,
  ct: 'normal',
  ageYears: 30,
  posturing: false,
  sbpMmHg: 120,
};

/** Patients of the table, in the study or not, and one who is not in it. */
const PEOPLE = [
  { id: '1', row: { ...severe, ct: 'abnormal' as const } },
  { id: '2', row: severe, exports: 'none' as const },
  { id: '3', row: { ...severe, ageYears: 40, sbpMmHg: 80 } },
  { id: '4', row: { ...severe, ct: null } },
  { id: '5', row: { ...severe, ct: null, gcsTotal: null } },
  { id: '6', row: {}, hasIcp: false },
  { id: '7', row: null },
];

describe('the criteria for monitoring over a cohort', () => {
  it('are counted by hand, over all patients of the table and nobody else', () => {
    expect(studyCriteria.parse(criteriaResult(smallStudy(PEOPLE)))).toEqual({
      ageFrom: 'over40',
      met: 1,
      notMet: 2,
      cannotTell: 3,
      missing: [
        { field: 'ct', patients: 3 },
        { field: 'gcsTotal', patients: 2 },
        { field: 'ageYears', patients: 1 },
        { field: 'posturing', patients: 1 },
        { field: 'sbpMmHg', patients: 1 },
      ],
    });
    const from40 = criteriaResult(smallStudy(PEOPLE, { ageFrom: 'from40' }));
    expect([from40.ageFrom, from40.met, from40.notMet, from40.cannotTell]).toEqual(['from40', 2, 1, 3]);
  });

  it('stand on the page with the fields that would decide', () => {
    const text = textOf(<CriteriaSection criteria={criteriaResult(smallStudy(PEOPLE))} />);
    expect(text).toContain(
      'Of the 6 patients of the table the criteria are met in 1 (17 %) and not met in 2 (33 %); in 3 (50 %) it cannot be told.',
    );
    expect(text).toContain('in the 3 patients of whom it cannot be told');
    expect(text).toContain('CT 3 GCS total 2 age 1 motor posturing 1 systolic pressure 1');
    expect(text).toContain('two or more of age over 40, motor posturing');
    const own = criteriaResult(smallStudy(PEOPLE, { ageFrom: 'from40' }));
    expect(textOf(<CriteriaSection criteria={own} />)).toContain(
      'age 40 or more, motor posturing and a systolic pressure under 90 mmHg. Brain Trauma Foundation, 3rd edition, J Neurotrauma 2007;24(S1):S37; age from 40: as some services count it.',
    );
    const known = criteriaResult(smallStudy(PEOPLE.slice(0, 3)));
    expect(textOf(<CriteriaSection criteria={known} />)).not.toContain('could decide');
    expect(textOf(<CriteriaSection criteria={criteriaResult(smallStudy([]))} />)).toContain(
      'No patient is in the table.',
    );
  });
});
