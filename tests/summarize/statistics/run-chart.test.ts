import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { type RunChart, runChartSignals } from '../../../src/summarize/statistics/run-chart.js';
import { fewestCrossings, mostInRun } from '../../../src/summarize/statistics/run-chart-limits.js';
import { runR } from '../../support/r.js';

/** Values of which the given sides of 0 can be read: `+`, `-` and `0` for a point on the line. */
const sides = (text: string): number[] =>
  [...text].map((one, i) => (one === '0' ? 0 : (one === '+' ? 1 : -1) * (1 + i)));

/** Of all rows of `n` points by chance, the shares that have a signal, by counting rows and not by drawing them. */
function promised(n: number): { longRun: number; fewCrossings: number; either: number } {
  const [most, fewest] = [mostInRun(n), fewestCrossings(n)];
  // The number of rows by length of the last run, crossings, and whether a run was too long; up to a factor of 2^n.
  let rows = new Map<string, number>([['1,0,0', 1]]);
  for (let i = 1; i < n; i++) {
    const next = new Map<string, number>();
    const add = (run: number, crossings: number, isLong: number, share: number): void => {
      const key = `${Math.min(run, most + 1)},${Math.min(crossings, fewest)},${isLong}`;
      next.set(key, (next.get(key) ?? 0) + share / 2);
    };
    for (const [key, share] of rows) {
      const [run, crossings, isLong] = key.split(',').map(Number);
      add(run + 1, crossings, isLong || Number(run + 1 > most), share);
      add(1, crossings + 1, isLong, share);
    }
    rows = next;
  }
  const shareOf = (has: (isLong: boolean, isFew: boolean) => boolean): number =>
    [...rows].reduce((sum, [key, share]) => {
      const [, crossings, isLong] = key.split(',').map(Number);
      return has(isLong === 1, crossings < fewest) ? sum + share : sum;
    }, 0);
  return {
    longRun: shareOf((isLong) => isLong),
    fewCrossings: shareOf((_, isFew) => isFew),
    either: shareOf((isLong, isFew) => isLong || isFew),
  };
}

describe('the limits of a run chart', () => {
  // Outside source: R, qbinom and round, the same whole numbers.
  it('are those of R', () => {
    const useful = [...Array.from({ length: 1500 }, (_, i) => i + 1), 5000, 20_000];
    const theirs = runR<{ crossings: number[]; run: number[] }>(
      'list(crossings = as.integer(qbinom(0.05, input$useful - 1, 0.5)), run = round(log2(input$useful)) + 3)',
      { useful },
    );
    expect(useful.map(fewestCrossings)).toEqual(theirs.crossings);
    expect(useful.map(mostInRun)).toEqual(theirs.run);
  });

  // The table of Anhoj & Olesen, PLoS ONE 2014;9:e113825: values from memory; the check against R stands above.
  it.each([
    [10, 6, 2],
    [12, 7, 3],
    [20, 7, 6],
    [24, 8, 8],
    [40, 8, 14],
    [60, 9, 23],
  ])('for %d points are a run of %d and %d crossings', (useful, run, crossings) => {
    expect([mostInRun(useful), fewestCrossings(useful)]).toEqual([run, crossings]);
  });
});

describe('signals of a run chart', () => {
  it('takes the median as centre line, and leaves out what is on it', () => {
    const found = runChartSignals([3, 1, 2, 5, 4, 3, 3]);
    expect(found.centreLine).toBe(3);
    expect(found.useful).toBe(4);
    expect(found.longestRun).toEqual({ points: 2, first: 1, last: 2 });
    expect(found.crossings).toBe(1);
  });

  it('does not end a run with a point on the line', () => {
    const { longestRun, crossings, useful } = runChartSignals(sides('-+0++0-'), 0);
    expect(longestRun).toEqual({ points: 3, first: 1, last: 4 });
    expect(crossings).toBe(2);
    expect(useful).toBe(5);
  });

  it('tells a long run from one that is just not', () => {
    // 16 points: a run of more than 7.
    const just = runChartSignals(sides('+++++++-+-+-+-+-'), 0);
    expect(just).toMatchObject({ mostInRun: 7, hasLongRun: false, hasFewCrossings: false, reason: null });
    const long = runChartSignals(sides('++++++++-+-+-+-+'), 0);
    expect(long).toMatchObject({ hasLongRun: true, hasFewCrossings: false });
    expect(long.longestRun).toEqual({ points: 8, first: 0, last: 7 });
  });

  it('tells few crossings from just enough', () => {
    // 16 points: fewer than 4.
    const just = runChartSignals(sides('++++----++++--++'), 0);
    expect(just).toMatchObject({
      crossings: 4,
      fewestCrossings: 4,
      hasLongRun: false,
      hasFewCrossings: false,
    });
    const few = runChartSignals(sides('+++++-----++++++'), 0);
    expect(few).toMatchObject({ crossings: 2, hasLongRun: false, hasFewCrossings: true });
  });

  it('of a baseline keeps its centre line', () => {
    const after = [5, 6, 7, 5, 6, 7, 5, 6, 7, 5, 6, 7];
    expect(runChartSignals(after).hasLongRun).toBe(null);
    expect(runChartSignals(after, 4)).toMatchObject({
      centreLine: 4,
      useful: 12,
      hasLongRun: true,
      hasFewCrossings: true,
    });
  });

  it('cannot tell of fewer than 12 points off the line', () => {
    const eleven = runChartSignals(sides('+++++++++++0000'), 0);
    expect(eleven).toEqual({
      centreLine: 0,
      useful: 11,
      longestRun: { points: 11, first: 0, last: 10 },
      crossings: 0,
      mostInRun: null,
      fewestCrossings: null,
      hasLongRun: null,
      hasFewCrossings: null,
      reason: '11 points are off the centre line, and 12 are needed to tell',
    });
    expect(runChartSignals([])).toMatchObject({
      centreLine: { reason: 'there are no points' },
      longestRun: null,
      reason: '0 points are off the centre line, and 12 are needed to tell',
    });
    expect(() => runChartSignals([1, Number.NaN])).toThrow('Expected finite values');
  });
});

describe('how often a run chart signals', () => {
  const CHARTS = 4000;
  const random = xoroshiro128plus(2031);
  const normal = (): number => {
    const [u, v] = [1 - uniformFloat64(random), uniformFloat64(random)];
    return Math.sqrt(-2 * Math.log(u)) * Math.cos(2 * Math.PI * v);
  };
  /** Values of a stable process, and of one that is so many standard deviations higher. */
  const drawn = (count: number, shift = 0): number[] => Array.from({ length: count }, () => normal() + shift);

  function sharesOf(chart: () => RunChart): { longRun: number; fewCrossings: number; either: number } {
    const charts = Array.from({ length: CHARTS }, chart);
    const share = (has: (one: RunChart) => boolean): number => charts.filter(has).length / CHARTS;
    return {
      longRun: share((one) => one.hasLongRun === true),
      fewCrossings: share((one) => one.hasFewCrossings === true),
      either: share((one) => one.hasLongRun === true || one.hasFewCrossings === true),
    };
  }

  // The promise: the limit of crossings is the 5 % quantile, so that fewer come in under 5 % by chance (Anhoj & Olesen
  // 2014); of a long run and of both, all rows of points counted.
  it.each([12, 16, 24, 36, 60])(
    'by chance, in a stable process of %d points, is as often as the rules promise',
    (n) => {
      const promise = promised(n);
      expect(promise.fewCrossings).toBeLessThan(0.05);
      expect(promise.either).toBeGreaterThan(0.035);
      expect(promise.either).toBeLessThan(0.11);
      const found = sharesOf(() => runChartSignals(drawn(n), 0));
      // Five standard errors of a share of 4000 charts.
      for (const key of ['longRun', 'fewCrossings', 'either'] as const) {
        const near = 5 * Math.sqrt((promise[key] * (1 - promise[key])) / CHARTS);
        expect(Math.abs(found[key] - promise[key])).toBeLessThan(near);
      }
      expect(sharesOf(() => runChartSignals(drawn(n))).either).toBeLessThan(0.055);
    },
  );

  // Invented: 12 months and 12 more.
  const around = (shift: number) =>
    sharesOf(() => runChartSignals(drawn(12, shift), runChartSignals(drawn(12)).centreLine as number)).either;

  it('around a median of few points is more often', () => {
    expect(around(0)).toBeGreaterThan(0.07);
    expect(around(0)).toBeLessThan(0.14);
  });

  it('finds a shift of two standard deviations, best around the median before it', () => {
    expect(around(2)).toBeGreaterThan(0.93);
    const own = sharesOf(() => runChartSignals([...drawn(12), ...drawn(12, 2)])).either;
    expect(own).toBeGreaterThan(0.55);
    expect(own).toBeLessThan(0.7);
  });
});
