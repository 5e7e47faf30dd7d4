import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Outcome } from '../../../../src/ingest/tables/outcome.js';
import {
  codeOn,
  outcomeGroups,
  USUAL_CUTS,
} from '../../../../src/summarize/study/analysis/outcome-groups.js';
import { studyPatient } from '../../../../src/summarize/study/analysis/study-patient.js';
import { tableOne } from '../../../../src/summarize/study/analysis/table-one.js';
import { cohortRow } from '../../../support/invented-study.js';
import { holds } from '../../../support/properties.js';
import { inventedCohort, patient } from './invented-cohort.js';

const withOutcomes = (outcomes: readonly (Outcome | null)[]) =>
  outcomes.map((outcome, i) => patient({ id: `p${i}`, outcome }));

describe('groups by outcome', () => {
  it('are cut where common practice has it', () => {
    const gose = [1, 2, 3, 4, 5, 6, 7, 8].map((value) => ({ scale: 'gose' as const, value }));
    const groups = outcomeGroups(withOutcomes([...gose, null]), USUAL_CUTS.gose);
    expect(groups.coded.filter(({ isFavourable }) => isFavourable).map(({ code }) => code)).toEqual([
      5, 6, 7, 8,
    ]);
    expect(groups.words).toEqual({
      favourable: 'favourable: GOSE 5 to 8',
      unfavourable: 'unfavourable: GOSE 1 to 4',
    });
    expect(groups.source).toBe('common practice, no source');
    expect(groups.withoutOutcome.length).toBe(1);
    const gos = [1, 2, 3, 4, 5].map((value) => ({ scale: 'gos' as const, value }));
    expect(outcomeGroups(withOutcomes(gos), USUAL_CUTS.gos).counts).toEqual({
      favourable: 2,
      unfavourable: 3,
    });
    const own = outcomeGroups(withOutcomes(gos), { scale: 'gos', favourableFrom: 5 });
    expect([own.source, own.words.favourable]).toEqual(['as the pipeline file says', 'favourable: GOS 5']);
  });

  it('of mortality read the Glasgow scales, and no other scale is turned into another', () => {
    const mixed: Outcome[] = [
      { scale: 'gos', value: 1 },
      { scale: 'gose', value: 1 },
      { scale: 'gose', value: 2 },
      { scale: 'mortality', isDead: false },
    ];
    expect(outcomeGroups(withOutcomes(mixed), USUAL_CUTS.mortality)).toMatchObject({
      counts: { favourable: 2, unfavourable: 2 },
      words: { favourable: 'alive', unfavourable: 'dead' },
      onAnotherScale: 0,
    });
    expect(outcomeGroups(withOutcomes([...mixed, null]), USUAL_CUTS.gose)).toMatchObject({
      counts: { favourable: 0, unfavourable: 2 },
      onAnotherScale: 2,
      withoutOutcome: { length: 3 },
    });
  });

  it('of the GOS read the GOSE: two of its levels for each from severe disability on', () => {
    // Source: Wilson, Pettigrew & Teasdale, J Neurotrauma 1998;15:573-85: 1 dead, 2 vegetative, 3 and 4 severe
    // disability, 5 and 6 moderate disability, 7 and 8 good recovery.
    const gose = [1, 2, 3, 4, 5, 6, 7, 8].map((value) => ({ scale: 'gose' as const, value }));
    expect(gose.map((outcome) => codeOn('gos', outcome))).toEqual([1, 2, 3, 3, 4, 4, 5, 5]);
    // What is favourable by the usual cut of the one is so by that of the other.
    const favourable = (scale: 'gos' | 'gose') =>
      outcomeGroups(withOutcomes(gose), USUAL_CUTS[scale]).coded.map(({ isFavourable }) => isFavourable);
    expect(favourable('gos')).toEqual(favourable('gose'));
    // The other way round nobody can say which half it was.
    expect(codeOn('gose', { scale: 'gos', value: 1 })).toBeNull();
    expect(codeOn('gose', { scale: 'gos', value: 4 })).toBeNull();
    expect(codeOn('gos', { scale: 'mortality', isDead: true })).toBeNull();
  });

  it('refuse a cut that leaves a group without any level', () => {
    for (const favourableFrom of [1, 9, 4.5]) {
      expect(() => outcomeGroups([], { scale: 'gose', favourableFrom })).toThrow(
        'Expected a level from 2 to 8 that is favourable',
      );
    }
    const twice = [patient({ id: 'a' }), patient({ id: 'a' })];
    expect(() => outcomeGroups(twice, USUAL_CUTS.gose)).toThrow('Expected each patient once');
  });
});

describe('a patient of the table', () => {
  it('has died where the columns of brain death and of deaths or the outcome say so', () => {
    const row = cohortRow({ id: 'a', ageYears: 30, gcsMotor: 4, gcsTotal: 7, pupilsReacting: 2 });
    const said = (happened: boolean | null) => (happened === null ? null : { happened, at: null });
    const died = (happened: boolean | null, outcome: Outcome | null, brainDied: boolean | null = null) =>
      studyPatient({ ...row, death: said(happened), brainDeath: said(brainDied), outcome }, {}, 'length')
        .hasDied;
    expect(died(null, null)).toBe(null);
    expect(died(false, null)).toBe(false);
    expect(died(true, null)).toBe(true);
    expect(died(null, { scale: 'gose', value: 1 })).toBe(true);
    expect(died(null, { scale: 'gos', value: 2 })).toBe(false);
    expect(died(true, { scale: 'mortality', isDead: false })).toBe(true);
    expect(died(false, { scale: 'mortality', isDead: true })).toBe(true);
    // Brain death is death, whatever else is said; that there was none tells nothing of other deaths.
    expect(died(null, null, true)).toBe(true);
    expect(died(false, null, true)).toBe(true);
    expect(died(null, { scale: 'mortality', isDead: false }, true)).toBe(true);
    expect(died(null, null, false)).toBe(null);
    expect(died(false, null, false)).toBe(false);
    expect(died(true, null, false)).toBe(true);
  });
});

describe('a patient of the table who had a craniectomy or a withdrawal', () => {
  it('is one of whom the table says so, and nobody of whom it is silent', () => {
    const of = (given: Parameters<typeof cohortRow>[0]) => studyPatient(cohortRow(given), {}, 'length');
    const at = { utcMs: 0, endUtcMs: 0, isDay: false };
    expect(of({ id: 'a' })).toMatchObject({
      hadCraniectomy: null,
      isWithdrawn: null,
      therapyIntensity: null,
    });
    expect(
      of({
        id: 'a',
        craniectomy: { happened: true, at },
        withdrawn: { happened: false, at: null },
        therapyIntensity: 0,
      }),
    ).toMatchObject({ hadCraniectomy: true, isWithdrawn: false, therapyIntensity: 0 });
  });
});

describe('who the patients are', () => {
  it('is counted by hand', () => {
    const people = [
      patient({
        id: 'a',
        ageYears: 20,
        gcsMotor: 5,
        pupilsReacting: 2,
        hasDied: false,
        therapyIntensity: 12,
        hadCraniectomy: false,
        isWithdrawn: false,
        features: { icpMonitoredHours: 72 },
        outcome: { scale: 'gose', value: 8 },
      }),
      patient({
        id: 'b',
        ageYears: 40,
        gcsMotor: 1,
        gcsTotal: 3,
        pupilsReacting: 0,
        hasDied: true,
        outcome: { scale: 'gose', value: 1 },
      }),
      patient({
        id: 'c',
        ageYears: 50,
        gcsMotor: 1,
        hadCraniectomy: true,
        isWithdrawn: true,
        outcome: { scale: 'gose', value: 3 },
      }),
      patient({ id: 'd', ageYears: null, pupilsReacting: 1 }),
    ];
    const { favourable, unfavourable, withoutOutcome, all } = tableOne(
      outcomeGroups(people, USUAL_CUTS.gose),
    );
    expect([favourable, unfavourable, withoutOutcome, all].map(({ patients }) => patients)).toEqual([
      1, 2, 1, 4,
    ]);
    expect(unfavourable.ageYears).toEqual({
      known: 2,
      missing: 0,
      median: 45,
      lowerQuartile: 42.5,
      upperQuartile: 47.5,
    });
    expect(withoutOutcome.ageYears).toMatchObject({
      missing: 1,
      median: { reason: 'no value is known' },
    });
    expect(all.gcsMotor).toMatchObject({ median: 1, missing: 1 });
    expect(all.gcsMotor.counts.filter(({ count }) => count > 0)).toEqual([
      { value: 1, count: 2 },
      { value: 5, count: 1 },
    ]);
    expect(all.gcsTotal).toMatchObject({ known: 1, missing: 3, median: 3 });
    expect(all.pupilsReacting).toEqual({
      counts: [0, 1, 2].map((value) => ({ value, count: 1 })),
      missing: 1,
    });
    expect(unfavourable.died).toEqual({ yes: 1, no: 0, missing: 1 });
    expect(all.craniectomy).toEqual({ yes: 1, no: 1, missing: 2 });
    expect(unfavourable.withdrawn).toEqual({ yes: 1, no: 0, missing: 1 });
    expect(favourable.therapyIntensity).toMatchObject({ median: 12, known: 1, missing: 0 });
    expect(all.monitoredHours).toMatchObject({ median: 72, known: 1, missing: 3 });
  });

  it('adds up, in each cell with those who are not known', () => {
    holds(
      fc.property(fc.integer({ min: 1, max: 1e6 }), fc.integer({ min: 0, max: 60 }), (seed, count) => {
        const table = tableOne(outcomeGroups(inventedCohort(seed, count), USUAL_CUTS.gose));
        const { favourable, unfavourable, withoutOutcome, all } = table;
        expect(favourable.patients + unfavourable.patients + withoutOutcome.patients).toBe(all.patients);
        expect(all.patients).toBe(count);
        for (const column of [favourable, unfavourable, withoutOutcome, all]) {
          const { ageYears, gcsMotor, gcsTotal, pupilsReacting } = column;
          for (const { counts, missing } of [gcsMotor, gcsTotal, pupilsReacting]) {
            expect(counts.reduce((sum, one) => sum + one.count, missing)).toBe(column.patients);
          }
          for (const { known, missing } of [ageYears, column.therapyIntensity, column.monitoredHours]) {
            expect(known + missing).toBe(column.patients);
          }
          for (const { yes, no, missing } of [column.died, column.craniectomy, column.withdrawn]) {
            expect(yes + no + missing).toBe(column.patients);
          }
        }
      }),
      60,
    );
  });
});
