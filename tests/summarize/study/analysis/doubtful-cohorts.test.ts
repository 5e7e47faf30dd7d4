import { describe, expect, it } from 'vitest';
import type { FeatureAnalysis } from '../../../../src/summarize/study/analysis/feature-analysis.js';
import { featureAnalyses, TEST_KINDS } from '../../../../src/summarize/study/analysis/feature-analysis.js';
import { holmFigures } from '../../../../src/summarize/study/analysis/holm-figures.js';
import { analyseOutcome } from '../../../../src/summarize/study/analysis/outcome-analysis.js';
import { outcomeGroups, USUAL_CUTS } from '../../../../src/summarize/study/analysis/outcome-groups.js';
import type { StudyPatient } from '../../../../src/summarize/study/analysis/study-patient.js';
import { runR } from '../../../support/r.js';
import { expectNear } from '../../statistics/regression/invented.js';
import { dosed, found, inventedCohort, patient } from './invented-cohort.js';

const rising = (count: number): number[] => Array.from({ length: count }, (_, i) => i + 1);

const analysed = (patients: readonly StudyPatient[], step = 1): FeatureAnalysis =>
  featureAnalyses(outcomeGroups(patients, USUAL_CUTS.gose), [{ key: 'dose', step }], ['ageYears'])[0];

/** Nowhere a number that is none, and each figure that is missing has its reason. */
function expectNoNaN(value: unknown): void {
  if (typeof value === 'number') expect(Number.isFinite(value)).toBe(true);
  else if (value !== null && typeof value === 'object') Object.values(value).forEach(expectNoNaN);
  expect(value).not.toBe(undefined);
}

/** The one reason that stands in all tests. */
function reasonOf({ tests }: FeatureAnalysis): string {
  const reasons = TEST_KINDS.flatMap((kind) => [tests[kind].p, tests[kind].holmP]).map((p) =>
    typeof p === 'number' ? `p = ${p}` : p.reason,
  );
  expect(new Set(reasons).size).toBe(1);
  return reasons[0];
}

describe('a feature of which nothing can be said', () => {
  it('says why', () => {
    const cases: [StudyPatient[], string][] = [
      [
        dosed(rising(5), [1, 2, 6, 7, 8]),
        '5 patients have a value and an outcome, and a comparison needs 10',
      ],
      [dosed([4], [8]), '1 patient has a value and an outcome, and a comparison needs 10'],
      [[], 'no patient with an outcome has a value'],
      [
        dosed(
          rising(12).map(() => null),
          rising(12).map((i) => (i % 8) + 1),
        ),
        'no patient with an outcome has a value',
      ],
      [
        dosed(
          rising(12),
          rising(12).map(() => null),
        ),
        'no patient with an outcome has a value',
      ],
      [
        dosed(
          rising(12).map(() => 3.5),
          rising(12).map((i) => (i % 8) + 1),
        ),
        'all patients have the same value',
      ],
      [
        dosed(
          rising(12),
          rising(12).map((i) => 5 + (i % 4)),
        ),
        'no patient with a value has an unfavourable outcome',
      ],
      [
        dosed(
          rising(12),
          rising(12).map((i) => 1 + (i % 4)),
        ),
        'no patient with a value has a favourable outcome',
      ],
    ];
    for (const [patients, reason] of cases) {
      const one = analysed(patients);
      expect(reasonOf(one)).toBe(reason);
      expectNoNaN(one);
      const whole = analyseOutcome(patients, {
        cut: USUAL_CUTS.gose,
        chosen: [{ key: 'dose', step: 1 }],
        adjusters: ['ageYears'],
      });
      expectNoNaN(whole);
      expect(whole.doseResponses[0]).toMatchObject({ byQuantile: { reason }, curve: { reason } });
    }
    // Five patients are described still.
    expect(analysed(cases[0][0]).groups.spread).toMatchObject({
      unfavourable: { known: 2, median: 1.5 },
      favourable: { known: 3, median: 4 },
    });
  });

  it('counts by reason who has no value', () => {
    const gose = rising(14).map((i) => (i % 8) + 1);
    const patients = dosed(
      rising(14).map((i) => (i < 4 ? null : i)),
      gose,
    );
    patients.push(patient({ id: 'unread', outcome: { scale: 'gose', value: 8 } }));
    const one = analysed(patients);
    expect(one.known).toBe(11);
    expect(one.missing).toEqual([
      { reason: 'no ICP in this time', count: 3 },
      { reason: 'the feature was not read of this patient', count: 1 },
    ]);
    expect([one.groups.spread.favourable.missing, one.groups.spread.unfavourable.missing]).toEqual([1, 3]);
  });
});

describe('outcomes that a feature parts completely', () => {
  // Outside source: R, brglm2 (Firth's likelihood).
  it('have penalised odds, said to be so', () => {
    const patients = dosed(
      rising(20),
      rising(20).map((i) => (i <= 8 ? 8 : 2)),
    );
    const one = analysed(patients, 2);
    const odds = found(one.logistic);
    expect(odds).toMatchObject({
      method: 'penalised likelihood',
      separation: 'complete',
      hasFewEvents: true,
    });
    expect(odds.eventsPerVariable).toBe(8);
    const theirs = runR<number>(
      'suppressMessages(library(brglm2)); x <- 1:20; exp(2 * coef(glm(as.numeric(x > 8) ~ x, binomial, method = "brglmFit", type = "AS_mean"))[[2]])',
      null,
    );
    expectNear([odds.value as number], [theirs], 1e-4);
    expect(odds.wald.p).toMatchObject({ reason: expect.stringContaining('parted') });
    expect(odds.profile.lower).toBeGreaterThan(1);
    expect(one.groups.area).toMatchObject({ value: 1, lower: { reason: expect.any(String) } });
    expect(one.ordinal).toEqual({
      reason: 'the outcome has two levels, for which it is the logistic regression',
    });
    expectNoNaN(one);
    // A step at which odds leave what a number holds has a reason, and no endless figure.
    expect(found(analysed(patients, 1e5).logistic).value).toMatchObject({ reason: expect.any(String) });
  });
});

describe('what is adjusted by', () => {
  const cohort = inventedCohort(77, 90);
  const of = (patients: readonly StudyPatient[], adjusters: Parameters<typeof featureAnalyses>[2]) =>
    featureAnalyses(outcomeGroups(patients, USUAL_CUTS.gose), [{ key: 'dose', step: 10 }], adjusters)[0]
      .adjusted;

  it('is left out, and said to be, where nobody has it or all have the same', () => {
    const odd = cohort.map((one) => ({ ...one, gcsMotor: null, pupilsReacting: 2 as const }));
    const { adjusters, leftOut, complete, incomplete } = of(odd, ['ageYears', 'gcsMotor', 'pupilsReacting']);
    expect(adjusters).toEqual(['ageYears']);
    expect(leftOut).toEqual([
      { adjuster: 'gcsMotor', reason: 'not known of any patient' },
      { adjuster: 'pupilsReacting', reason: 'the same in all complete patients' },
    ]);
    expect(incomplete).toBe(0);
    expect(complete).toBe(cohort.filter(({ outcome }) => outcome !== null).length);
  });

  it('has a reason where too few are complete, or the model is too large', () => {
    const blank = cohort.map((one, i) => ({ ...one, ageYears: i < 8 ? one.ageYears : null }));
    const few = of(blank, ['ageYears']);
    expect([few.logistic, few.ordinal, few.unadjusted]).toEqual(
      Array(3).fill({
        reason: 'all that is adjusted by is known of 7 patients, and a model needs 10',
      }),
    );
    expect(of(cohort, []).logistic).toEqual({ reason: 'nothing is named to adjust by' });
    const lonely = cohort.map((one, i) => ({
      ...one,
      outcome: { scale: 'gose' as const, value: i < 2 ? 1 : 8 },
    }));
    expect(of(lonely, ['ageYears', 'gcsTotal']).logistic).toEqual({
      reason: '2 of the smaller group and 3 predictors: too few for this model',
    });
  });

  it('cannot be the GCS twice', () => {
    expect(() => of(cohort, ['gcsMotor', 'gcsTotal'])).toThrow(
      'Expected the GCS total or its motor part, which is in it',
    );
    expect(() =>
      featureAnalyses(outcomeGroups(cohort, USUAL_CUTS.gose), [{ key: 'dose', step: 0 }], []),
    ).toThrow('Expected steps above 0');
  });
});

describe('adjusting figures for several questions', () => {
  it('leaves out those that have no p', () => {
    expect(holmFigures([0.01, { reason: 'none' }, 0.04])).toEqual([0.02, { reason: 'none' }, 0.04]);
  });
});
