import { describe, expect, it } from 'vitest';
import { artifact } from '../../fixtures/labelled/plan/artifact.js';
import type { Mark } from '../../src/clean/rule.js';
import { doseSummary } from './aggregate/doses.js';
import { quantile } from './aggregate/quantile.js';
import { artifactRows, seeArtifacts } from './measure/artifact-rows.js';
import { coverageOf, type Grid } from './measure/coverage.js';
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

describe('errors of dose', () => {
  const row = (true_: [number, number], cleaned: [number, number]): RecordingRow => ({
    seed: 1,
    samplingSeconds: 1,
    resolutionMmHg: 1,
    days: 2,
    trueHours: true_[1],
    trueDoseMmHgHours: true_[0],
    rawHours: 10,
    rawDoseMmHgHours: 20,
    cleanedHours: cleaned[1],
    cleanedDoseMmHgHours: cleaned[0],
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
