import { describe, expect, it } from 'vitest';
import { artifact } from '../../fixtures/labelled/plan/artifact.js';
import type { LabelledPatient } from '../../fixtures/labelled/types.js';
import type { Mark } from '../../src/clean/rule.js';
import { causesOf } from './aggregate/causes.js';
import { doseSummary } from './aggregate/doses.js';
import { quantile } from './aggregate/quantile.js';
import { artifactRows, seeArtifacts } from './measure/artifact-rows.js';
import { coverageOf, type Grid } from './measure/coverage.js';
import { excessRows } from './measure/excess-rows.js';
import { inventedOf, missedOf } from './measure/match-episodes.js';
import type { RecordingRow } from './measure/rows.js';
import { ruleRows } from './measure/rule-rows.js';
import { trueRows, wrongStretches } from './measure/true-rows.js';

const GRID: Grid = { startMs: 1_000_000, everySeconds: 5, count: 12 };
const RULES = ['first', 'second'];

/** A mark on ICP from one second after the start to another, both inside. */
const mark = (rule: string, grade: Mark['grade'], from: number, to: number): Mark => ({
  channel: 'icp',
  rule,
  grade,
  start: GRID.startMs + from * 1000,
  end: GRID.startMs + to * 1000,
});

describe('marks on samples', () => {
  it('cover the samples between their ends, both included, for the first rule that took them', () => {
    const marks = [
      mark('second', 'removed', 5, 20),
      mark('first', 'removed', 11, 16),
      mark('first', 'suspect', 19, 26),
    ];
    const { removed, suspect } = coverageOf(marks, 'icp', RULES, GRID);
    expect([...removed]).toEqual([0, 2, 2, 1, 2, 0, 0, 0, 0, 0, 0, 0]);
    expect([...suspect]).toEqual([0, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0, 0]);
  });

  it('count on their own channel only, and not outside the recording', () => {
    const beyond = [
      { ...mark('first', 'removed', 5, 20), channel: 'map' as const },
      mark('first', 'removed', 55, 900),
    ];
    expect([...coverageOf(beyond, 'icp', RULES, GRID).removed]).toEqual([0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1]);
  });
});

describe('artifacts on samples', () => {
  // Sample times are 0, 5, 10 ... 55 s.
  const artifacts = [
    artifact({ kind: 'cough', start: 4, end: 21 }),
    artifact({ kind: 'cough', start: 26, end: 29 }),
    artifact({ kind: 'drift', start: 30, end: 55 }),
  ];
  const labels = new Int32Array(60);
  artifacts.forEach(({ start, end }, at) => {
    labels.fill(at + 1, start, end + 1);
  });
  const marks = [
    mark('first', 'removed', 5, 10),
    mark('second', 'suspect', 10, 35),
    mark('first', 'removed', 50, 55),
  ];
  const coverage = coverageOf(marks, 'icp', RULES, GRID);
  const seen = seeArtifacts(artifacts, 'icp', labels, coverage, GRID);

  it('are counted by the samples that they hold; removed goes before suspect', () => {
    expect(seen.map(({ labelled, removed, suspect }) => [labelled, removed, suspect])).toEqual([
      [4, 2, 2],
      [0, 0, 0],
      [6, 2, 2],
    ]);
  });

  it('are marked where half of their samples are, and add up by kind', () => {
    const [cough, drift] = artifactRows({ seed: 7, samplingSeconds: 5 }, seen);
    expect(cough).toEqual({
      seed: 7,
      samplingSeconds: 5,
      what: 'artifact',
      kind: 'cough',
      grade: 'removed',
      events: 2,
      eventsHolding: 1,
      eventsRemoved: 1,
      eventsSuspect: 1,
      eventsEither: 1,
      seconds: 20,
      secondsRemoved: 10,
      secondsSuspect: 10,
      worstAtSecond: 4,
      worstSeconds: 10,
      worstRule: '',
    });
    expect(drift).toMatchObject({ eventsRemoved: 0, eventsSuspect: 0, eventsEither: 1, worstSeconds: 10 });
  });
});

describe('true samples', () => {
  const marks = [
    mark('second', 'suspect', 0, 14),
    mark('first', 'removed', 10, 24),
    mark('first', 'removed', 40, 40),
  ];
  const coverage = coverageOf(marks, 'icp', RULES, GRID);
  const kinds = ['a', 'a', 'a', 'a', 'b', 'b', null, null, 'b', 'b', 'b', 'b'];
  const samples = { kindAt: (i: number) => kinds[i], coverage, rules: RULES, grid: GRID };

  it('are lost in stretches of one rule and one kind', () => {
    expect(wrongStretches(samples)).toEqual([
      { kind: 'a', rule: 'second', atSecond: 0, samples: 2 },
      { kind: 'a', rule: 'first', atSecond: 10, samples: 2 },
      { kind: 'b', rule: 'first', atSecond: 20, samples: 1 },
      { kind: 'b', rule: 'first', atSecond: 40, samples: 1 },
    ]);
  });

  it('add up by kind', () => {
    const rows = trueRows({ seed: 7, samplingSeconds: 5 }, 'high', samples);
    expect(rows.map((row) => [row.kind, row.seconds, row.secondsRemoved, row.secondsSuspect])).toEqual([
      ['a', 20, 10, 10],
      ['b', 30, 10, 0],
    ]);
    expect(rows[0]).toMatchObject({ worstAtSecond: 0, worstSeconds: 10, worstRule: 'second' });
  });

  it('are told apart in the account of the rules, each sample once', () => {
    const truthAt = (i: number) => (i < 2 ? 'labelled' : i < 4 ? 'high' : 'quiet');
    const rows = ruleRows({ seed: 7, samplingSeconds: 5 }, 'icp', marks, coverage, RULES, truthAt);
    expect(
      rows.map((r) => [r.rule, r.grade, r.marks, r.secondsLabelled, r.secondsHigh, r.secondsQuiet]),
    ).toEqual([
      ['first', 'removed', 2, 0, 10, 10],
      ['second', 'suspect', 1, 10, 0, 0],
    ]);
  });
});

describe('episodes', () => {
  const span = (start: number, end: number) => ({ start, end });

  it('are found where half of the shorter one is shared', () => {
    const real = [span(0, 10), span(100, 110), span(200, 300)];
    const found = [span(5, 25), span(106, 140), span(240, 250)];
    expect(missedOf(real, found)).toEqual([span(100, 110)]);
  });

  it('are invented where none is true', () => {
    expect(inventedOf([span(0, 10), span(9, 30), span(50, 60)], [span(10, 12), span(60, 70)])).toEqual([
      span(0, 10),
      span(50, 60),
    ]);
  });
});

const DOSES: RecordingRow = {
  seed: 1,
  samplingSeconds: 1,
  resolutionMmHg: 1,
  days: 2,
  trueHours: 0,
  trueDoseMmHgHours: 0,
  rawHours: 10,
  rawDoseMmHgHours: 20,
  cleanedHours: 0,
  cleanedDoseMmHgHours: 0,
  trustedHours: 0,
  trustedDoseMmHgHours: 0,
  idealHours: 10,
  idealDoseMmHgHours: 10,
  trueEpisodes: 0,
  plainEpisodes: 0,
  missed: 0,
  missedBorderline: 0,
  missedByIdeal: 0,
  foundEpisodes: 0,
  invented: 0,
  inventedHatched: 0,
  inventedBorderline: 0,
};

describe('errors of dose', () => {
  const row = (true_: [number, number], cleaned: [number, number]): RecordingRow => ({
    ...DOSES,
    trueHours: true_[1],
    trueDoseMmHgHours: true_[0],
    cleanedHours: cleaned[1],
    cleanedDoseMmHgHours: cleaned[0],
  });

  it('are shares of the dose an hour from 1 mmHg.h on, and mmHg below', () => {
    // True doses an hour: 2, 0.5 and 0.05 mmHg.
    const { high, low } = doseSummary([
      row([20, 10], [11, 5]),
      row([5, 10], [4, 10]),
      row([0.5, 10], [0.6, 10]),
    ]);
    expect(high.recordings).toBe(2);
    expect(high.cleaned.median).toBeCloseTo((0.1 + 0.2) / 2, 12);
    expect(high.raw.max).toBeCloseTo(3, 12);
    expect(high.trusted.max).toBe(1);
    // Perfect cleaning says 1 mmHg for both: half of 2, twice 0.5. Cleaned says 2.2 and 0.4.
    expect(high.ideal.max).toBeCloseTo(1, 12);
    expect(high.cleanedToIdeal.max).toBeCloseTo(0.6 / 0.5, 12);
    expect(low.recordings).toBe(1);
    expect(low.cleaned.max).toBeCloseTo(0.01, 12);
  });

  // R 4: quantile(c(1, 2, 3, 4, 10), c(0.25, 0.5, 0.9)), type 7, is 2, 3 and 7.6: value from memory of the definition.
  it('have the quantiles that definition 7 gives', () => {
    const values = [10, 1, 3, 2, 4];
    expect(quantile(values, 0.25)).toBe(2);
    expect(quantile(values, 0.5)).toBe(3);
    expect(quantile(values, 0.9)).toBeCloseTo(7.6, 12);
    expect(quantile([], 0.5)).toBeNull();
  });
});

describe('what makes a dose wrong', () => {
  const recording = (seed: number, cleanedDoseMmHgHours: number): RecordingRow => ({
    ...DOSES,
    seed,
    trueHours: 10,
    trueDoseMmHgHours: 10,
    cleanedHours: 10,
    cleanedDoseMmHgHours,
  });
  const excess = (seed: number, kind: string, isHatched: number, excessMmHgHours: number) => ({
    seed,
    samplingSeconds: 1,
    kind,
    isHatched,
    secondsKept: 60,
    excessMmHgHours,
  });

  it('is blamed on the largest contribution of the sign of the error, and else on what was left out', () => {
    const rows = [recording(1, 16), recording(2, 13), recording(3, 5), recording(4, 10.9), recording(5, 14)];
    const causes = causesOf(rows, [
      excess(1, 'drift', 0, 5),
      excess(1, 'turn', 0, 1),
      // More than the whole error, against something that was left out.
      excess(2, 'bumpedProbe', 1, 4),
      excess(2, 'bumpedProbe', 0, 1),
      excess(3, 'clipped', 1, -1),
      excess(5, 'drift', 0, 4),
    ]);
    expect(causes.map(({ kind, isHatched, patients }) => [kind, isHatched, patients])).toEqual([
      ['drift', false, 2],
      ['bumpedProbe', true, 1],
      ['leftOut', false, 1],
    ]);
    expect(causes[0].worst.map(({ seed }) => seed)).toEqual([1, 5]);
    expect(causes[0].medianError).toBeCloseTo(0.5, 12);
  });

  it('is counted sample by sample, where the headline keeps them', () => {
    const seconds = 8;
    const shown = Float64Array.from([30, 30, 20, 30, 30, Number.NaN, 26, 26]);
    const patient = {
      artifacts: [{ kind: 'bumpedProbe' }, { kind: 'clipped' }],
      labels: { icp: Int32Array.from([1, 1, 0, 1, 2, 2, 0, 0]) },
      shown: { icp: shown },
      trueIcp: Float64Array.from([20, 24, 20, 20, 34, 30, 24, 26]),
    } as unknown as LabelledPatient;
    const grid = { startMs: 0, everySeconds: 1, count: seconds };
    const at = (start: number, end: number, grade: 'removed' | 'suspect', direction?: 'up' | 'down') =>
      ({ channel: 'icp', rule: 'step', grade, direction, start: start * 1000, end: end * 1000 }) as const;
    const marks = [at(1, 1, 'suspect', 'up'), at(3, 3, 'suspect', 'down')];
    const got = excessRows({ seed: 1, samplingSeconds: 1 }, patient, marks, grid);
    const mmHgSeconds = (value: number) => Math.round((value * 1e6) / 3600) / 1e6;
    expect(got.map((row) => [row.kind, row.isHatched, row.secondsKept, row.excessMmHgHours])).toEqual([
      ['bumpedProbe', 0, 1, mmHgSeconds(8)],
      ['bumpedProbe', 1, 1, mmHgSeconds(6)],
      ['clipped', 0, 1, mmHgSeconds(-4)],
      // Without a label, and not the truth: the start of a drift.
      ['drift', 0, 1, mmHgSeconds(2)],
    ]);
  });
});
