import { describe, expect, it } from 'vitest';
import { SECONDS } from '../../fixtures/labelled/evaluation-set.js';
import { artifact } from '../../fixtures/labelled/plan/artifact.js';
import { event } from '../../fixtures/labelled/plan/event.js';
import { patientPlan } from '../../fixtures/labelled/plan/patient-plan.js';
import type { LabelledPatient } from '../../fixtures/labelled/types.js';
import { look } from './look.js';
import { measureSampling, rowsOf } from './measure/measure-sampling.js';
import { joinRows } from './measure/rows.js';
import { truthOf } from './measure/truth-of.js';
import { reportFiles } from './report-files.js';
import { resultsOf } from './results.js';
import { csvFiles, rowsFromCsv } from './tables.js';

/** A true rise from 10 to 30 mmHg of twenty minutes, two of them up and two down; and where the channel is lost. */
const RISE = { start: 50_000, end: 51_199 };
const CODES = { start: 20_000, end: 20_009 };
const LOST = { start: 100_000, end: 110_799 };

/** Whole numbers that never stand still, around the level that is true at a second. */
function trueAt(second: number): number {
  const within = Math.min(second - RISE.start, RISE.end - second);
  const level = Math.min(30, Math.max(10, 10 + within / 6));
  return Math.round(level) + ((second * 7) % 5) - 2;
}

/** A patient made by hand: one episode, ten seconds of a code, three hours of blanks; nothing else. */
function handMade(): LabelledPatient {
  const plan = {
    ...patientPlan(1),
    resolution: 1,
    hasLine: false,
    hasPulse: false,
    drain: 'none',
    care: undefined,
  };
  const artifacts = [
    artifact({ kind: 'outsideRange', ...CODES, sizeMmHg: 999 }),
    artifact({ kind: 'disconnection', ...LOST }),
  ];
  const trueIcp = new Float64Array(SECONDS).map((_, i) => trueAt(i));
  const labels = new Int32Array(SECONDS)
    .fill(1, CODES.start, CODES.end + 1)
    .fill(2, LOST.start, LOST.end + 1);
  const shown = trueIcp
    .slice()
    .fill(999, CODES.start, CODES.end + 1)
    .fill(Number.NaN, LOST.start, LOST.end + 1);
  return {
    plan: {
      ...plan,
      events: [event({ kind: 'plateauWave', ...RISE })],
      artifacts,
    } as LabelledPatient['plan'],
    trueIcp,
    trueMap: null,
    shown: { icp: shown, icpDrain: null, map: null, pulse: null },
    artifacts,
    labels: { icp: labels, icpDrain: null, map: null },
    lost: Uint8Array.from(labels, (label) => (label === 2 ? 1 : 0)),
  };
}

const patient = handMade();
const truth = truthOf(patient);
const rows = joinRows(
  ([1, 5, 15, 60] as const).map((sampling) =>
    rowsOf(measureSampling(patient, truth, sampling), patient, truth),
  ),
);
const [second] = resultsOf(rows).samplings;

describe('a patient made by hand', () => {
  it('has the hours, dose and episode that were put in', () => {
    // Pieces that touch a lost second are unknown: 10 800 s and one more on either side.
    expect(truth.hours).toBeCloseTo((SECONDS - 1 - 10_801) / 3600, 9);
    // 8 mmHg over the threshold for 960 s, and two flanks that climb those 8 in 48 s each.
    expect(truth.doseMmHgHours).toBeCloseTo((8 * 960 + 8 * 48) / 3600, 1);
    expect(truth.episodes).toHaveLength(1);
    expect(truth.eventAt(50_500)).toBe('plateauWave');
    expect(truth.coverAt(20_005)).toBe('outsideRange');
  });

  it.each([
    [1, 10],
    [5, 10],
    [15, 0],
    [60, 0],
  ])('has its codes removed at %d s as far as they hold a sample', (samplingSeconds, seconds) => {
    const row = rows.kinds.find(
      (one) => one.kind === 'outsideRange' && one.samplingSeconds === samplingSeconds,
    );
    expect(row).toMatchObject({
      events: 1,
      seconds,
      secondsRemoved: seconds,
      eventsHolding: seconds > 0 ? 1 : 0,
    });
  });

  it('loses no true second, has the right dose and its one episode at 1 s', () => {
    const seconds = patient.trueIcp.filter((x) => x > 22).length;
    expect(second.high).toMatchObject({ seconds, secondsRemoved: 0, secondsSuspect: 0 });
    expect(second.highKinds.map(({ kind }) => kind)).toEqual(['plateauWave']);
    expect(second.dose.high.recordings).toBe(1);
    expect(second.dose.high.raw.median).toBeGreaterThan(0.9);
    expect(second.dose.high.cleaned.median).toBeLessThan(0.001);
    expect(second.dose.high.ideal.median).toBeLessThan(0.001);
    expect(second.episodes).toMatchObject({
      trueEpisodes: 1,
      plainEpisodes: 1,
      missed: 0,
      foundEpisodes: 1,
      invented: 0,
    });
  });

  it('has blanks told apart from what rules have to find', () => {
    expect(second.kinds.map(({ kind }) => kind)).toEqual(['outsideRange', 'disconnection']);
    expect(second.removable).toMatchObject({ events: 1, seconds: 10, secondsRemoved: 10 });
    expect(second.kinds[1]).toMatchObject({ seconds: 10_800, secondsRemoved: 10_800 });
  });

  it('has no artifact left in its headline', () => {
    expect(rows.excess.filter(({ samplingSeconds }) => samplingSeconds === 1)).toEqual([]);
    expect(second.causes).toEqual([]);
  });

  it('is read back from its tables as it was written, and the page with it', () => {
    const files = csvFiles(rows);
    const back = rowsFromCsv((path) => files.get(path)!);
    expect(csvFiles(back)).toEqual(files);
    expect(reportFiles(back)).toEqual(reportFiles(rows));
  });

  it('makes a page without script or machine paths, with the caution of every report', () => {
    const page = reportFiles(rows).get('index.html')!;
    expect(page).not.toMatch(/<script|https?:|\/work\//);
    expect(page).toContain('All patients are invented');
    expect(page).toContain('It is no alarm');
  });
});

describe('looking for what went wrong', () => {
  it('shows artifacts without the mark that they should have, with the values around them', () => {
    const sights = look({ seed: 1, samplingSeconds: 60, kind: 'coughTrain' });
    expect(sights.length).toBeGreaterThan(0);
    for (const { seed, wrongSeconds, says, values } of sights) {
      expect(seed).toBe(1);
      expect(wrongSeconds % 60).toBe(0);
      expect(wrongSeconds).toBeGreaterThan(0);
      expect(says).toContain('coughTrain plain (removed)');
      expect(values).toMatch(/^every \d+ s: /);
    }
  });
});
