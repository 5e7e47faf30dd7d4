import { describe, expect, it } from 'vitest';
import { type AdjustedOdds, adjustedOdds } from '../../../../src/summarize/study/analysis/adjusted-odds.js';
import { compareGroups } from '../../../../src/summarize/study/analysis/compare-groups.js';
import { featureCases } from '../../../../src/summarize/study/analysis/feature-cases.js';
import { holmFigures } from '../../../../src/summarize/study/analysis/holm-figures.js';
import { outcomeGroups, USUAL_CUTS } from '../../../../src/summarize/study/analysis/outcome-groups.js';
import type { OddsRatio } from '../../../../src/summarize/study/analysis/step-odds.js';
import { noise } from '../../../support/noise.js';
import { found, inventedCohort, LOG_ODDS_PER_10, patient } from './invented-cohort.js';

const COHORTS = 60;
const RUNS = 100;
const FEATURES = 20;

describe('a cohort in which burden goes with outcome', () => {
  // The truth is the one that the cohort was made with: conditional odds in the dose, given all else that outcome hangs on.
  it('gives the odds ratio back within its intervals', () => {
    const truth = Math.exp(LOG_ODDS_PER_10);
    const cohorts = Array.from({ length: COHORTS }, (_, i) => {
      const groups = outcomeGroups(inventedCohort(500 + 2 * i, 120), USUAL_CUTS.gose);
      return adjustedOdds(featureCases(groups, 'dose'), ['ageYears', 'gcsMotor', 'pupilsReacting'], 10);
    });
    const holding = (of: (one: AdjustedOdds) => OddsRatio): number =>
      cohorts.filter((one) => {
        const { lower, upper } = of(one).profile;
        return (lower as number) < truth && truth < (upper as number);
      }).length;
    // Of 60 intervals that hold 95 % of the time, under 52 hold in 0.6 % of such tries.
    expect(holding(({ ordinal }) => found(ordinal))).toBeGreaterThanOrEqual(52);
    expect(holding(({ logistic }) => found(logistic))).toBeGreaterThanOrEqual(52);
    const logs = cohorts.map(({ ordinal }) => Math.log(found(ordinal).value as number));
    const mean = logs.reduce((sum, x) => sum + x, 0) / COHORTS;
    expect(Math.abs(mean - LOG_ODDS_PER_10)).toBeLessThan(0.05);
    // And no interval is so wide that it holds all.
    expect(
      cohorts.filter(({ ordinal }) => (found(ordinal).profile.lower as number) > 1).length,
    ).toBeGreaterThan(50);
  });
});

describe('cohorts in which nothing goes with outcome', () => {
  /** Features are of two kinds: those of which all differ, and those in tenths, of which many are the same. */
  const families = Array.from({ length: RUNS }, (_, run) => {
    const draw = noise(9000 + run);
    const keys = Array.from({ length: FEATURES }, (_, k) => `f${k}`);
    const patients = Array.from({ length: 60 }, (_, i) =>
      patient({
        id: `p${i}`,
        features: Object.fromEntries(
          keys.map((key, k) => [key, k % 2 === 0 ? draw() : Math.max(0, Math.round(4 * draw()) / 4)]),
        ),
        outcome: { scale: 'gose', value: draw() > 0 ? 7 : 3 },
      }),
    );
    const groups = outcomeGroups(patients, USUAL_CUTS.gose);
    return keys.map((key) => compareGroups(featureCases(groups, key)).p as number);
  });

  it('find 5 % of the features by the plain test', () => {
    const all = families.flat();
    expect(all.length).toBe(2000);
    const share = all.filter((p) => p < 0.05).length / all.length;
    expect(share).toBeGreaterThan(0.035);
    expect(share).toBeLessThan(0.065);
  });

  it('find any in no more than 5 % of the families once adjusted', () => {
    const any = (of: (ps: number[]) => readonly unknown[]): number =>
      families.filter((ps) => of(ps).some((p) => (p as number) < 0.05)).length;
    // Of 100 families with a chance of 5 %, over 10 have any in 1 % of such tries; unadjusted it is 64 of 100.
    expect(any(holmFigures)).toBeLessThanOrEqual(10);
    expect(any((ps) => ps)).toBeGreaterThan(45);
  });
});
