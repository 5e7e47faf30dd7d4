import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { generateStudyUnit, type StudyUnit } from '../../fixtures/generator/study/study-unit.js';
import { CLEAN_STYLE, SMALL_STYLE } from '../../fixtures/generator/study/styles.js';
import type { StudyTruth } from '../../fixtures/generator/study/truth.js';
import type { StudyStyle } from '../../fixtures/generator/study/types.js';
import { spearmanRho } from '../../src/summarize/statistics/spearman.js';
import { featureAnalyses } from '../../src/summarize/study/analysis/feature-analysis.js';
import type { NoOdds, OddsRatio } from '../../src/summarize/study/analysis/step-odds.js';
import type { StudyCohort } from '../../src/summarize/study/study-cohort.js';
import { ROOT } from '../support/cistern.js';
import { studyOfExports } from '../support/study-of-exports.js';

const BURDEN = 'icpDosePerHourAbove22MmHg';
const PIPELINE = join(ROOT, 'pipelines/demo-outcome-study.yaml');

/** A cohort as files, and what the program makes of them. */
async function throughExports(style: StudyStyle): Promise<{ cohort: StudyCohort; unit: StudyUnit }> {
  const folder = mkdtempSync(join(tmpdir(), 'cistern-study-'));
  try {
    const unit = generateStudyUnit(style);
    mkdirSync(join(folder, 'exports'));
    for (const { name, text } of unit.files) {
      writeFileSync(join(folder, 'exports', name.replace('.gz', '')), text);
    }
    writeFileSync(join(folder, 'cohort.csv'), unit.cohort);
    const cohort = await studyOfExports(PIPELINE, {
      data: [join(folder, 'exports')],
      set: [`cohort=${join(folder, 'cohort.csv')}`],
    });
    return { cohort, unit };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

const burdens = ({ patients }: StudyCohort, { truth }: StudyUnit) => {
  const known = new Map(truth.patients.map((patient) => [patient.id, patient]));
  return patients.map(({ id, features }) => {
    const { dosePerHourMmHg, role } = known.get(id)!;
    return { id, role, found: features[BURDEN] as number, drawn: dosePerHourMmHg };
  });
};

const logOdds = (odds: OddsRatio | NoOdds, step: number) => {
  if ('reason' in odds) throw new Error(odds.reason);
  const [lower, upper] = [odds.profile.lower, odds.profile.upper].map(
    (end) => Math.log(end as number) / step,
  );
  return { value: Math.log(odds.value as number) / step, lower, upper };
};

describe('a cohort of which the answer is known, read from its exports', () => {
  let cohort: StudyCohort;
  let unit: StudyUnit;

  beforeAll(async () => {
    // The committed cohort a value a minute, so that it is quick; all that is wrong with its data is there.
    ({ cohort, unit } = await throughExports({ ...SMALL_STYLE, intervalSecondsAt: () => 60 }));
  });

  it('loses the patients that it should, each where it should', () => {
    const { roles } = unit.truth;
    const { flow } = cohort;
    const excluded = Object.fromEntries(flow.steps.map((step) => [step.step, step.excluded]));
    expect(excluded.noExports).toBe(roles.noExports);
    expect(excluded.notRead).toBe(0);
    expect(excluded.noIcp).toBe(roles.noIcp);
    expect(excluded.littleMonitored).toBe(roles.little);
    // Who was dead at 3 months was dead at 6.
    const early = unit.truth.patients.filter(({ role, gose }) => role === 'early' && gose > 1).length;
    expect(excluded.noOutcome).toBe(roles.noOutcome! + early);
    const lost = (roles.noRow ?? 0) + (roles.twoRows ?? 0) + (roles.outOfScale ?? 0);
    expect(flow.inTable).toBe(unit.truth.patients.length - lost);
    expect(flow.exportsWithoutRow).toHaveLength(lost);
    // Both rows of one patient, and the one with a level that is none.
    expect(cohort.rowsSetAside).toBe(3);
    const withdrawn = unit.truth.patients.filter(
      (one) => one.withdrawn !== null && flow.withOutcome.includes(one.id),
    );
    expect(excluded.withdrawn).toBe(withdrawn.length);
    expect(withdrawn.length).toBeGreaterThan(2);
  });

  it('measures the dose that each patient was drawn with', () => {
    const all = burdens(cohort, unit);
    expect(all.length).toBeGreaterThan(60);
    for (const { id, role, found, drawn } of all) {
      // A probe that reads nothing for hours takes what lay in them from dose and time alike.
      const allowed = role === 'pulledProbe' ? 0.3 : 0.03 + 0.04 * drawn;
      expect(Math.abs(found - drawn), `${id}: ${found} for ${drawn}`).toBeLessThan(allowed);
    }
  });

  it('stops where treatment was withdrawn, though ICP rises behind it', () => {
    const withdrawn = new Set(unit.truth.patients.flatMap((one) => (one.withdrawn ? [one.id] : [])));
    let cut = 0;
    for (const { id, study } of cohort.members) {
      const primary = study?.rows.find(({ kind }) => kind === 'primary')?.window;
      if (!withdrawn.has(id) || !primary || 'reason' in primary || cohort.memberOf.get(id)?.row === null)
        continue;
      const { hoursThatCount } = unit.truth.patients.find((one) => one.id === id)!;
      expect(primary.endHours, id).toBeCloseTo(hoursThatCount, 3);
      cut++;
    }
    expect(cut).toBeGreaterThan(2);
  });

  it('finds the odds that outcome was drawn with inside its intervals', () => {
    const analyses = featureAnalyses(cohort.groups, cohort.settings.chosen, cohort.adjusters);
    const { adjusted, step, tests } = analyses.find(({ key }) => key === BURDEN)!;
    for (const odds of [adjusted.logistic, adjusted.ordinal]) {
      const { lower, upper } = logOdds(odds, step);
      expect(lower).toBeGreaterThan(0);
      expect(lower).toBeLessThan(unit.truth.logOddsPerMmHg);
      expect(upper).toBeGreaterThan(unit.truth.logOddsPerMmHg);
    }
    expect(tests.rankSum.holmP).toBeLessThan(0.05);
  });
});

describe('clean cohorts of several seeds', () => {
  it('give the odds back through signals, and the doses to a few hundredths', async () => {
    const logs: number[] = [];
    for (const seed of [1, 2, 3]) {
      const { cohort, unit } = await throughExports({
        ...CLEAN_STYLE,
        seed,
        patients: 70,
        intervalSecondsAt: () => 120,
        logOddsPerMmHg: 1,
      });
      const all = burdens(cohort, unit);
      for (const { id, found, drawn } of all)
        expect(Math.abs(found - drawn), id).toBeLessThan(0.02 + 0.02 * drawn);
      const [burden] = featureAnalyses(cohort.groups, [{ key: BURDEN, step: 1 }], cohort.adjusters);
      const logistic = logOdds(burden.adjusted.logistic, 1);
      const ordinal = logOdds(burden.adjusted.ordinal, 1);
      for (const { lower, upper } of [logistic, ordinal]) {
        expect(lower, `seed ${seed}`).toBeLessThan(1);
        expect(upper, `seed ${seed}`).toBeGreaterThan(1);
      }
      logs.push(ordinal.value);
    }
    // Standard error of the mean of three: about 0.15.
    expect(Math.abs(logs.reduce((sum, one) => sum + one, 0) / 3 - 1)).toBeLessThan(0.5);
  });
});

describe('exports of the committed cohort every 10 s', () => {
  it('let PRx be read, which follows how much of the slow waves is shared', async () => {
    const folder = join(ROOT, 'fixtures/study-unit');
    const cohort = await studyOfExports(PIPELINE, { data: [join(folder, 'exports/patient-60*.csv.gz')] });
    const { patients }: StudyTruth = JSON.parse(readFileSync(join(folder, 'truth.json'), 'utf8'));
    const pairs = cohort.patients.flatMap(({ id, features }) => {
      const prx = features.prxMean;
      const { coupling, intervalSeconds } = patients.find((one) => one.id === id)!;
      if (intervalSeconds === 60) {
        expect(prx).toEqual({ reason: 'not resolvable at this sampling: every 60 s, needs 10 s or finer' });
        return [];
      }
      return typeof prx === 'number' ? [{ prx, coupling }] : [];
    });
    expect(pairs.length).toBeGreaterThanOrEqual(5);
    const rho = spearmanRho(
      Float64Array.from(pairs, ({ prx }) => prx),
      Float64Array.from(pairs, ({ coupling }) => coupling),
    );
    expect(rho).toBeGreaterThan(0.9);
  });
});
