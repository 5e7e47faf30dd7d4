import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cutTo } from '../../src/recording/pieces.js';
import type { Signal } from '../../src/recording/signal.js';
import { findEpisodes } from '../../src/segment/episodes.js';
import { type CppTarget, targetsInForce } from '../../src/summarize/cpp-targets.js';
import { type LowCpp, lowCpp } from '../../src/summarize/low-cpp.js';
import { sumsOver } from '../../src/summarize/piece-sums.js';
import { holds, signals } from '../support/properties.js';
import { runPython } from '../support/python.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0, through } from '../support/signals.js';
import { UNDER_60 } from '../support/targets.js';

const HOUR = seconds(0, 3600);
const low = (cpp: Signal, targets = targetsInForce([], 60), interval = 1000): LowCpp =>
  lowCpp(cpp, targets, UNDER_60, interval, HOUR);

/** Targets one behind the other: the first from ever, each other from so many seconds after T0. */
const targetsOf = (
  first: number,
  ...others: readonly (readonly [from: number, mmHg: number])[]
): CppTarget[] =>
  [[Number.NEGATIVE_INFINITY, first] as const, ...others].map(([from, belowMmHg], i) => ({
    start: T0 + from * 1000,
    end: i < others.length ? T0 + others[i][0] * 1000 : Number.POSITIVE_INFINITY,
    belowMmHg,
    row: null,
  }));

/** From 80 down to 40 mmHg in half an hour and back: under 60 for half of the hour. */
const VALLEY = through([
  [0, 80],
  [1800, 40],
  [3600, 80],
]);

describe('targets in force', () => {
  const row = (from: number | null, until: number | null, line: number) => ({
    ...{ from, until, line, file: 'a.csv' },
    cppBelowMmHg: 60 + line,
  });
  const inForce = (...rows: ReturnType<typeof row>[]) =>
    targetsInForce(rows, 60).map(({ start, end, belowMmHg }) => [start, end, belowMmHg]);
  const [first, last] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY];

  it('are those of the pipeline file before the first row, and behind the end of one', () => {
    expect(inForce()).toEqual([[first, last, 60]]);
    expect(inForce(row(1, 3, 1), row(5, null, 2))).toEqual([
      [first, 1, 60],
      [1, 3, 61],
      [3, 5, 60],
      [5, last, 62],
    ]);
    expect(inForce(row(null, 3, 1), row(3, 4, 2))).toEqual([
      [first, 3, 61],
      [3, 4, 62],
      [4, last, 60],
    ]);
  });
  it('hold until the next row where no end is given', () => {
    expect(inForce(row(1, null, 1), row(5, null, 2)).slice(1)).toEqual([
      [1, 5, 61],
      [5, last, 62],
    ]);
  });
});

describe('low CPP', () => {
  it('of a valley is the triangle under the target', () => {
    const { hours, doseMmHgHours, episodes, undetermined, episodesReason } = low(VALLEY);
    expect(hours).toBeCloseTo(0.5, 12);
    // 20 mmHg deep, half an hour wide.
    expect(doseMmHgHours).toBeCloseTo(5, 12);
    expect(episodes).toEqual([
      {
        ...seconds(900, 2700),
        openStart: false,
        openEnd: false,
        lowestMmHg: 40,
        meanMmHg: expect.closeTo(50, 9),
        doseMmHgHours: expect.closeTo(5, 9),
      },
    ]);
    expect([undetermined, episodesReason]).toEqual([0, null]);
  });
  it('is none where CPP stands on its target', () => {
    expect(low(everySeconds(60, Array(61).fill(60)), undefined, 60_000)).toMatchObject({
      hours: 0,
      doseMmHgHours: 0,
      episodes: [],
    });
  });
  it('is unknown with a reason where there is no CPP, or the sampling shows none', () => {
    const reason = 'no CPP in this time';
    expect(low(everySeconds(1, []))).toMatchObject({
      hours: { reason },
      doseMmHgHours: { reason },
      episodes: [],
      episodesReason: reason,
    });
    const coarse = low(everySeconds(240, Array(16).fill(50)), undefined, 240_000);
    expect(coarse.hours).toBeCloseTo(1, 9);
    expect(coarse.episodes).toEqual([]);
    expect(coarse.episodesReason).toBe('not resolvable at this sampling: every 240 s, needs 100 s or finer');
  });
  it('counts apart what is cut off and too short to tell', () => {
    const cut = everySeconds(1, [...Array(200).fill(50), ...Array(3401).fill(70)]);
    expect(low(cut)).toMatchObject({ episodes: [], undetermined: 1 });
    const open = everySeconds(1, [...Array(400).fill(50), ...Array(3201).fill(70)]);
    expect(low(open).episodes).toMatchObject([{ openStart: true, openEnd: false }]);
  });
});

describe('low CPP where the target changes', () => {
  it('is below the target of each instant, exactly', () => {
    // Over half an hour CPP falls from 80 to 40; from 30 min on the target is 70, so CPP rises over it at 52.5 min.
    const { hours, doseMmHgHours, episodes } = low(VALLEY, targetsOf(60, [1800, 70]));
    expect(hours).toBeCloseTo((900 + 1350) / 3600, 12);
    const dose = (900 * 20) / 2 / 3600 + (1350 * 30) / 2 / 3600;
    expect(doseMmHgHours).toBeCloseTo(dose, 12);
    expect(episodes).toMatchObject([{ ...seconds(900, 3150), doseMmHgHours: expect.closeTo(dose, 9) }]);
  });
  it('is one episode that runs on across the change while CPP is below its own target of the moment', () => {
    const cpp = everySeconds(1, [...Array(600).fill(70), ...Array(900).fill(55), ...Array(2101).fill(75)]);
    const { episodes } = low(cpp, targetsOf(60, [1000, 65], [1200, 58]));
    expect(episodes).toHaveLength(1);
    expect(episodes[0].end - episodes[0].start).toBeGreaterThan(890_000);
  });
  it('ends an episode where CPP stands over the new target, and begins one where it falls under it', () => {
    const flat = everySeconds(1, Array(3601).fill(55));
    const spans = (targets: CppTarget[]): number[][] =>
      low(flat, targets).episodes.map(({ start, end }) => [(start - T0) / 1000, (end - T0) / 1000]);
    expect(spans(targetsOf(60, [1000.5, 50]))).toEqual([[0, 1000.5]]);
    expect(spans(targetsOf(50, [1000.5, 60]))).toEqual([[1000.5, 3600]]);
    // A target that is lowered for 20 s is a dip.
    expect(spans(targetsOf(60, [1000, 50], [1020, 60]))).toEqual([[0, 3600]]);
  });
  it('is not cut by a change inside an unknown stretch that is bridged', () => {
    const cpp = everySeconds(1, [
      ...Array(600).fill(50),
      ...Array(60).fill(Number.NaN),
      ...Array(2941).fill(50),
    ]);
    expect(low(cpp, targetsOf(60, [630, 58])).episodes).toHaveLength(1);
  });
  it('names the targets that share time with the period', () => {
    const { targets } = low(VALLEY, targetsOf(50, [-600, 60], [1800, 70], [9000, 80]));
    expect(targets.map(({ belowMmHg }) => belowMmHg)).toEqual([60, 70]);
  });
});

describe('identities of low CPP', () => {
  it('a change to the same target changes nothing', () => {
    const property = fc.property(
      signals(),
      fc.array(fc.integer({ min: 0, max: 3_600_000 }), { maxLength: 4 }),
      (signal, at) => {
        const split = targetsOf(
          60,
          ...[...new Set(at)].sort((a, b) => a - b).map((ms) => [ms / 1000, 60] as const),
        );
        const [whole, parts] = [low(signal), low(signal, split)];
        expect(parts.episodes.length).toBe(whole.episodes.length);
        expect(parts.undetermined).toBe(whole.undetermined);
        parts.episodes.forEach((episode, i) => {
          expect(episode.start).toBeCloseTo(whole.episodes[i].start, 1);
          expect(episode.end).toBeCloseTo(whole.episodes[i].end, 1);
        });
        if (typeof whole.hours === 'number') expect(parts.hours).toBeCloseTo(whole.hours, 9);
        if (typeof whole.doseMmHgHours === 'number')
          expect(parts.doseMmHgHours).toBeCloseTo(whole.doseMmHgHours, 9);
      },
    );
    holds(property);
  });
  it('of one target are the hours and episodes of a signal below a threshold', () => {
    const property = fc.property(signals(), (signal) => {
      const { episodes, hours } = low(signal);
      const expected = findEpisodes(signal, UNDER_60).episodes.filter(({ start }) => start < HOUR.end);
      if (typeof hours !== 'number') return;
      expect(hours).toBe(sumsOver(signal, HOUR, [60]).hoursBelow(60));
      expect(episodes.map(({ start, end }) => ({ start, end }))).toEqual(
        expected.map(({ start, end }) => ({ start, end })),
      );
    });
    holds(property);
  });
  it('what windows leave of a signal adds up to the signal', () => {
    const property = fc.property(signals(), fc.integer({ min: 0, max: 3_600_000 }), (signal, ms) => {
      const cut = T0 + ms;
      const ends = { start: Number.NEGATIVE_INFINITY, end: Number.POSITIVE_INFINITY };
      const parts = [cutTo(signal, { ...ends, end: cut }), cutTo(signal, { ...ends, start: cut })];
      const whole = sumsOver(signal, HOUR, [22]);
      const sum = (of: (one: typeof whole) => number): number =>
        parts.reduce((all, part) => all + of(sumsOver(part, HOUR, [22])), 0);
      expect(sum(({ hours }) => hours)).toBeCloseTo(whole.hours, 9);
      expect(sum((one) => one.doseAbove(22))).toBeCloseTo(whole.doseAbove(22), 6);
    });
    holds(property);
  });
});

// Outside source: numpy. The signal minus a stepwise target at the middles of a grid of 50 ms; to 1e-4 h and 1e-3 mmHg.h.
const NUMPY_BELOW = `
import json, sys
import numpy as np
d = json.load(sys.stdin)
t = np.arange(0.025, 3600, 0.05)
x = np.interp(t, d['t'], d['x'])
target = np.array(d['mmHg'])[np.searchsorted(d['from'], t, side='right')]
under = np.maximum(0, target - x)
step = 0.05 / 3600
print(json.dumps({'hours': float((under > 0).sum() * step), 'dose': float(under.sum() * step)}))
`;

it('hours and dose below a changing target are those of numpy', () => {
  const values = Array.from({ length: 181 }, (_, i) => 62 + 14 * Math.sin(i / 7) + ((i * 37) % 11));
  const [from, mmHg] = [
    [700.3, 1500, 2801.7],
    [60, 70, 55, 65],
  ];
  const outside = runPython<{ hours: number; dose: number }>(NUMPY_BELOW, {
    t: values.map((_, i) => i * 20),
    x: values,
    from,
    mmHg,
  });
  const targets = targetsOf(mmHg[0], ...from.map((at, i) => [at, mmHg[i + 1]] as const));
  const { hours, doseMmHgHours } = low(everySeconds(20, values), targets, 20_000);
  expect(Math.abs((hours as number) - outside.hours)).toBeLessThan(1e-4);
  expect(Math.abs((doseMmHgHours as number) - outside.dose)).toBeLessThan(1e-3);
});
