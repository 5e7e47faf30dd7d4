import { describe, expect, it } from 'vitest';
import { studyTableOne } from '../../../src/report/results-study-cohort.js';
import { outcomeResult } from '../../../src/report/study/outcome-result.js';
import { tableOneResult } from '../../../src/report/study/table-one-result.js';
import { TableOneSection } from '../../../src/report/study/table-one-section.js';
import { studyPatientTable } from '../../../src/report/tables/study-patient-table.js';
import { studyTableOne as studyTableOneTable } from '../../../src/report/tables/study-table-one.js';
import type { StudyCohort } from '../../../src/summarize/study/study-cohort.js';
import { inventedStudy, moment } from '../../support/invented-study.js';
import { type Given, gose, smallStudy, textOf } from './small-cohort.js';

const said = (happened: boolean) => ({ happened, at: null });

const PEOPLE: readonly Given[] = [
  {
    id: '1',
    hours: 72,
    row: {
      ...gose(8),
      ageYears: 20,
      gcsTotal: 8,
      gcsMotor: 5,
      pupilsReacting: 2,
      craniectomy: said(false),
      withdrawn: said(false),
      therapyIntensity: 4,
    },
  },
  { id: '2', hours: 50, row: { ...gose(6), ageYears: 31, pupilsReacting: 1, craniectomy: said(true) } },
  { id: '3', hours: 30, row: { ...gose(1), ageYears: 60, gcsMotor: 1, withdrawn: said(true) } },
  { id: '4', hours: 20, row: { ageYears: 44, death: said(true) } },
  { id: '5', hours: 2, row: { ...gose(3), ageYears: 90 } },
  { id: '6', exports: 'none', row: { ...gose(3), ageYears: 91 } },
];

const section = (cohort: StudyCohort): string =>
  textOf(<TableOneSection tableOne={tableOneResult(cohort)} outcome={outcomeResult(cohort)} />);

describe('Table 1', () => {
  it('is counted by hand over those who were monitored for long enough', () => {
    const { favourable, unfavourable, withoutOutcome, all } = studyTableOne.parse(
      tableOneResult(smallStudy(PEOPLE)),
    );
    expect([favourable, unfavourable, withoutOutcome, all].map(({ patients }) => patients)).toEqual([
      2, 1, 1, 4,
    ]);
    expect(favourable.ageYears).toMatchObject({ median: 25.5, lowerQuartile: 22.75, known: 2, missing: 0 });
    expect(all.ageYears).toMatchObject({ median: 37.5, known: 4 });
    expect(all.gcsMotor).toMatchObject({ median: 3, known: 2, missing: 2 });
    expect(all.monitoredHours).toMatchObject({ median: 40, known: 4, missing: 0 });
    expect(all.therapyIntensity).toMatchObject({ median: 4, known: 1, missing: 3 });
    expect(unfavourable.therapyIntensity).toMatchObject({
      median: null,
      medianReason: 'no value is known',
      missing: 1,
    });
    expect([favourable.craniectomy, all.craniectomy]).toEqual([
      { yes: 1, no: 1, missing: 0 },
      { yes: 1, no: 1, missing: 2 },
    ]);
    expect([unfavourable.withdrawn, all.withdrawn]).toEqual([
      { yes: 1, no: 0, missing: 0 },
      { yes: 1, no: 1, missing: 2 },
    ]);
    expect([favourable.died, unfavourable.died, withoutOutcome.died]).toEqual([
      { yes: 0, no: 2, missing: 0 },
      { yes: 1, no: 0, missing: 0 },
      { yes: 1, no: 0, missing: 0 },
    ]);
    expect(all.pupilsReacting).toEqual({
      counts: [
        { value: 0, count: 0 },
        { value: 1, count: 1 },
        { value: 2, count: 1 },
      ],
      missing: 2,
    });
  });

  it('adds up over groups and missing ones', () => {
    const { favourable, unfavourable, withoutOutcome, all } = tableOneResult(
      inventedStudy({ patients: 20, seed: 4 }),
    );
    for (const key of ['craniectomy', 'withdrawn', 'died'] as const) {
      for (const answer of ['yes', 'no', 'missing'] as const) {
        expect(favourable[key][answer] + unfavourable[key][answer] + withoutOutcome[key][answer]).toBe(
          all[key][answer],
        );
      }
      expect(all[key].yes + all[key].no + all[key].missing).toBe(all.patients);
    }
    for (const key of ['ageYears', 'gcsTotal', 'gcsMotor', 'therapyIntensity', 'monitoredHours'] as const) {
      expect(all[key].known + all[key].missing).toBe(all.patients);
      expect(favourable[key].known + unfavourable[key].known + withoutOutcome[key].known).toBe(
        all[key].known,
      );
    }
    expect(all.therapyIntensity.missing).toBeGreaterThan(0);
  });

  it('stands on the page with those who are missing in each row, and tests nothing', () => {
    const text = section(smallStudy(PEOPLE));
    expect(text).toContain('The 4 patients who were monitored for long enough, by outcome.');
    expect(text).toContain(
      'What Favourable: GOSE 5 to 8 Unfavourable: GOSE 1 to 4 Without outcome All three Patients, n 2 1 1 4',
    );
    expect(text).toContain(
      'Age, years, median (quartiles) 25.5 (22.8 to 28.3) 60 (60 to 60) 44 (44 to 44) 37.5 (28.3 to 48)',
    );
    expect(text).toContain(
      'Pupils: both react, n (%) 1 (50 %) missing: 0 – missing: 1 – missing: 1 1 (50 %) missing: 2',
    );
    expect(text).toContain(
      'Craniectomy, n (%) 1 (50 %) missing: 0 – missing: 1 – missing: 1 1 (50 %) missing: 2',
    );
    expect(text).toContain('Therapy intensity, median (quartiles) 4 (4 to 4) missing: 1 – missing: 1');
    expect(text).toContain('Died, n (%) 0 (0 %) 1 (100 %) 1 (100 %) 2 (50 %)');
    expect(text).toContain('Nothing is tested here.');
    expect(text).not.toMatch(/\bp [=<]/);
  });

  it('counts a brain death as a death, and page and tables agree on it', () => {
    const brainDeath = { happened: true, at: moment(Date.UTC(2031, 1, 13, 9)) };
    const cohort = smallStudy([
      { id: '1', row: { ...gose(8), brainDeath: said(false) } },
      { id: '2', row: { ...gose(1), brainDeath, death: said(false) } },
      { id: '3', row: { brainDeath } },
      { id: '4', row: { brainDeath: said(false) } },
    ]);
    expect(section(cohort)).toContain(
      'Died, n (%) 0 (0 %) missing: 0 1 (100 %) missing: 0 1 (100 %) missing: 1 2 (67 %) missing: 1',
    );
    expect(section(cohort)).toContain('Died: by the columns of brain death and of deaths, at any time');
    expect(
      studyTableOneTable(tableOneResult(cohort))
        .rows.filter(({ group, variable }) => group === 'all' && variable === 'died')
        .map(({ level, statistic, value }) => [level, statistic, value]),
    ).toEqual([
      ['yes', 'patients', 2],
      ['no', 'patients', 1],
      ['all', 'missing', 1],
    ]);
    expect(studyPatientTable(cohort).rows.map(({ patient, died }) => [patient, died])).toEqual([
      ['1', false],
      ['2', true],
      ['3', true],
      ['4', null],
    ]);
  });

  it('has no row of therapy intensity where nobody has one, and goes without anybody', () => {
    expect(section(smallStudy([{ id: '1', row: gose(5) }]))).not.toMatch(/therapy intensity/i);
    const nobody = section(smallStudy([]));
    expect(nobody).toContain('Age, years, median (quartiles) – – – –');
    expect(nobody).not.toMatch(/NaN|undefined|null/);
  });
});
