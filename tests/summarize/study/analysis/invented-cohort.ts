import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { NoOdds } from '../../../../src/summarize/study/analysis/step-odds.js';
import type { StudyPatient } from '../../../../src/summarize/study/analysis/study-patient.js';
import { noise } from '../../../support/noise.js';

/** A patient of whom nothing is said that is not given. */
export const patient = (given: Partial<StudyPatient> & { readonly id: string }): StudyPatient => ({
  features: {},
  windowEndsBy: 'length',
  ageYears: null,
  gcsMotor: null,
  gcsTotal: null,
  pupilsReacting: null,
  therapyIntensity: null,
  hadCraniectomy: null,
  isWithdrawn: null,
  hasDied: null,
  outcome: null,
  ...given,
});

/** GOSE outcomes with one feature, `dose`, in the order given. */
export const dosed = (doses: readonly (number | null)[], gose: readonly (number | null)[]): StudyPatient[] =>
  doses.map((dose, i) =>
    patient({
      id: `p${i}`,
      features: { dose: dose ?? { reason: 'no ICP in this time' } },
      outcome: gose[i] === null ? null : { scale: 'gose', value: gose[i] },
    }),
  );

/** The log odds that a dose of 10 mmHg.h adds to those of a worse outcome, in the cohort below. */
export const LOG_ODDS_PER_10 = 0.35;

/** Where the latent outcome is cut into GOSE 8 to 1. */
const CUTS = [-2.6, -1.6, -0.8, 0, 0.7, 1.1, 1.4];

/**
 * An invented cohort: outcomes follow proportional odds in the dose, age, motor score and pupils, some of which are blank. A
 * quarter has no dose at all.
 */
export function inventedCohort(seed: number, count: number): StudyPatient[] {
  const draw = noise(seed);
  const random = xoroshiro128plus(seed + 1);
  const uniform = (): number => uniformFloat64(random);
  return Array.from({ length: count }, (_, i) => {
    const dose = uniform() < 0.25 ? 0 : -25 * Math.log(1 - uniform());
    const ageYears = Math.round(18 + 62 * uniform());
    const gcsMotor = 1 + Math.floor(6 * uniform());
    const pupilsReacting = (uniform() < 0.7 ? 2 : uniform() < 0.5 ? 1 : 0) as 0 | 1 | 2;
    const chance = uniform();
    const latent =
      (LOG_ODDS_PER_10 * (dose - 20)) / 10 +
      0.03 * (ageYears - 49) -
      0.25 * (gcsMotor - 3.5) -
      0.5 * (pupilsReacting - 1.5) +
      Math.log(chance / (1 - chance));
    const value = 8 - CUTS.filter((cut) => latent > cut).length;
    return patient({
      id: `p${i}`,
      features: {
        dose,
        other: 15 + 4 * draw(),
        icpMonitoredHours: i % 9 === 0 ? 20 + (i % 7) : 72,
        sometimes: i % 6 === 0 ? { reason: 'no CPP in this time' } : 70 - dose / 20 + 5 * draw(),
      },
      windowEndsBy: value === 1 && i % 3 === 0 ? 'death' : 'length',
      ageYears,
      gcsMotor: i % 17 === 3 ? null : gcsMotor,
      gcsTotal: gcsMotor + 3,
      pupilsReacting: i % 23 === 5 ? null : pupilsReacting,
      therapyIntensity: i % 5 === 2 ? null : i % 30,
      hadCraniectomy: i % 11 === 4 ? null : i % 7 === 1,
      isWithdrawn: i % 13 === 6 ? null : value === 1 && i % 2 === 0,
      hasDied: value === 1,
      outcome: i % 29 === 7 ? null : { scale: 'gose', value },
    });
  });
}

/** What was found; the test fails with the reason where nothing was. */
export function found<T extends object>(one: T | NoOdds): T {
  if ('reason' in one) throw new Error(`nothing found: ${one.reason}`);
  return one;
}
