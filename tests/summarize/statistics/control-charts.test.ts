import { describe, expect, it } from 'vitest';
import type { AttributesChart } from '../../../src/summarize/statistics/attributes-chart.js';
import type { ControlPoint } from '../../../src/summarize/statistics/control-chart.js';
import { individualsChart } from '../../../src/summarize/statistics/individuals-chart.js';
import { laneyPChart, pChart } from '../../../src/summarize/statistics/p-chart.js';
import { laneyUChart, uChart } from '../../../src/summarize/statistics/u-chart.js';
import { expectSame, orNull } from '../../support/followed.js';
import { runR } from '../../support/r.js';

const lowers = (points: readonly ControlPoint[]): (number | null)[] =>
  points.map(({ lower }) => orNull(lower));
const uppers = (points: readonly ControlPoint[]): (number | null)[] =>
  points.map(({ upper }) => orNull(upper));
const beyond = (points: readonly ControlPoint[]): number[] =>
  points.flatMap((point, i) => (point.beyond === null ? [] : [i]));

describe('the chart of single values', () => {
  const FLOW = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];

  // Outside source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2, to the four digits that it gives.
  it('has the limits of NIST', () => {
    const { baseline, points, reason } = individualsChart(FLOW);
    expect(baseline!.centreLine).toBeCloseTo(50.81, 10);
    expect(orNull(points[0].lower)).toBeCloseTo(45.8159, 4);
    expect(orNull(points[9].upper)).toBeCloseTo(55.8041, 4);
    expect(beyond(points)).toEqual([]);
    expect(reason).toBeNull();
  });

  it('carries the limits of a baseline over', () => {
    const before = individualsChart(FLOW);
    const after = individualsChart([50, 55.9, 45.7], before.baseline);
    expect(after.baseline).toEqual(before.baseline);
    expect(after.points.map((point) => point.beyond)).toEqual([null, 'above', 'below']);
    expect(after.points[0].upper).toBe(before.points[0].upper);
    expect(individualsChart([55.9], before.baseline).points[0].beyond).toBe('above');
  });

  it('of values that are all the same has nothing beyond, also where their mean is rounded', () => {
    const { points } = individualsChart(new Array(10).fill(0.1));
    expect(points.map((point) => point.beyond)).toEqual(new Array(10).fill(null));
  });

  it('says why where there are no limits', () => {
    const reason = 'limits need two points, and there are 1';
    expect(individualsChart([4])).toEqual({
      baseline: null,
      reason,
      points: [{ value: 4, lower: { reason }, upper: { reason }, beyond: null }],
    });
    expect(individualsChart([])).toEqual({
      baseline: null,
      reason: 'limits need two points, and there are 0',
      points: [],
    });
    expect(() => individualsChart([1, Number.POSITIVE_INFINITY])).toThrow('Expected finite values');
  });
});

/** NIST/SEMATECH e-Handbook of Statistical Methods 6.3.3.2: wafers with a defect, of 50 in each of 30 lots. */
const WAFERS = [
  12, 15, 8, 10, 4, 7, 16, 9, 14, 10, 5, 6, 17, 12, 22, 8, 10, 5, 13, 11, 20, 18, 24, 15, 9, 12, 7, 13, 9, 6,
];
const FIFTY = WAFERS.map(() => 50);
/** Invented: alarms answered in time, of all in a month, and the monitored days. */
const ANSWERED = [31, 12, 44, 80, 25, 51, 60, 9, 30, 72, 41, 55];
const ALARMS = [50, 40, 61, 95, 70, 66, 130, 20, 33, 110, 60, 80];
const DAYS = [21.5, 30.25, 18, 40, 33.3, 27, 55.5, 9, 14, 47, 25, 31];

describe('the chart of shares', () => {
  // Outside source: the e-Handbook, whose figures are 0.2313, 0.0524 and 0.4102.
  it('has the centre line and limits of NIST', () => {
    const { baseline, points } = pChart(WAFERS, FIFTY);
    expect(baseline!.centreLine).toBeCloseTo(0.2313, 4);
    expect(orNull(points[0].lower)).toBeCloseTo(0.0524, 4);
    expect(orNull(points[29].upper)).toBeCloseTo(0.4102, 4);
    // Lots 15 and 23 are above: 22 and 24 of 50.
    expect(beyond(points)).toEqual([14, 22]);
    expect(points[22]).toMatchObject({ value: 0.48, beyond: 'above' });
  });

  it('has limits for each size, between 0 and 1', () => {
    const { points } = pChart([1, 9, 30, 0], [2, 10, 40, 3]);
    const p = 40 / 55;
    expectSame(uppers(points), [1, 1, p + 3 * Math.sqrt((p * (1 - p)) / 40), 1]);
    expectSame(lowers(points), [
      0,
      p - 3 * Math.sqrt((p * (1 - p)) / 10),
      p - 3 * Math.sqrt((p * (1 - p)) / 40),
      0,
    ]);
  });
});

type Chart = (counts: number[], sizes: number[]) => AttributesChart;

describe('charts of shares and rates', () => {
  // Outside source: the formulas of NIST 6.3.3 and of Laney 2002, written in R by themselves, to a relative 1e-9.
  const theirs = () =>
    runR<Record<string, { sigmaZ: number; lower: number[]; upper: number[] }>>(
      `limits <- function(x, n, sd, top, laney) {
         centre <- sum(x) / sum(n); s <- sd(centre, n)
         z <- (x / n - centre) / s
         sigmaZ <- if (laney) mean(abs(diff(z))) / 1.128 else 1
         list(sigmaZ = sigmaZ, lower = pmax(0, centre - 3 * s * sigmaZ), upper = pmin(top, centre + 3 * s * sigmaZ))
       }
       p <- function(m, n) sqrt(m * (1 - m) / n)
       u <- function(m, n) sqrt(m / n)
       with(input, list(
         p = limits(answered, alarms, p, 1, FALSE), laneyP = limits(answered, alarms, p, 1, TRUE),
         u = limits(alarms, days, u, Inf, FALSE), laneyU = limits(alarms, days, u, Inf, TRUE)))`,
      { answered: ANSWERED, alarms: ALARMS, days: DAYS },
    );

  it('have the limits of R', () => {
    const of = theirs();
    const ours: Record<string, AttributesChart> = {
      p: pChart(ANSWERED, ALARMS),
      laneyP: laneyPChart(ANSWERED, ALARMS),
      u: uChart(ALARMS, DAYS),
      laneyU: laneyUChart(ALARMS, DAYS),
    };
    for (const [key, { baseline, points }] of Object.entries(ours)) {
      expectSame([baseline!.sigmaZ], [of[key].sigmaZ]);
      expectSame(lowers(points), of[key].lower);
      expectSame(uppers(points), of[key].upper);
    }
    expect(ours.laneyP.baseline!.sigmaZ).toBeGreaterThan(1.5);
  });

  // Source: Laney 2002: where points vary by chance alone sigma z is 1, and the chart is the plain one.
  it.each<[string, Chart, Chart]>([
    ['p', pChart, laneyPChart],
    ['u', uChart, laneyUChart],
  ])('after Laney are the plain %s chart where sigma z is 1', (_name, plain, laney) => {
    const sizes = ALARMS.map(() => 400);
    const middle = 200;
    const apart = [3, -5, 8, -2, -9, 4, 7, -6, 2, -1, -4, 3];
    const counts = (factor: number): number[] => apart.map((x) => middle + factor * x);
    // Sigma z grows as the distances from the centre do.
    const one = counts(1 / laney(counts(1), sizes).baseline!.sigmaZ);
    const [ofLaney, ofPlain] = [laney(one, sizes), plain(one, sizes)];
    expect(ofLaney.baseline!.sigmaZ).toBeCloseTo(1, 12);
    expectSame(lowers(ofLaney.points), lowers(ofPlain.points));
    expectSame(uppers(ofLaney.points), uppers(ofPlain.points));
    // Twice as far apart, the limits of Laney are twice as far, and those of the plain chart stay.
    const two = counts(2 / laney(counts(1), sizes).baseline!.sigmaZ);
    const width = ({ points: [{ lower, upper }] }: AttributesChart): number =>
      orNull(upper)! - orNull(lower)!;
    expect(width(laney(two, sizes)) / width(ofPlain)).toBeCloseTo(2, 10);
    expect(width(plain(two, sizes)) / width(ofPlain)).toBeCloseTo(1, 10);
  });

  it('carry centre line and sigma z over from a baseline, which may be one point', () => {
    const before = laneyPChart(ANSWERED, ALARMS);
    const after = laneyPChart([99], [100], before.baseline);
    const { centreLine, sigmaZ } = before.baseline!;
    expectSame(lowers(after.points), [
      centreLine - 3 * sigmaZ * Math.sqrt((centreLine * (1 - centreLine)) / 100),
    ]);
    expect(pChart([99], [100], before.baseline).baseline).toEqual({ centreLine, sigmaZ: 1 });
    expect(uChart([900], [10], uChart(ALARMS, DAYS).baseline).points[0].beyond).toBe('above');
  });

  it('have no value at a point without a size, which moves nothing', () => {
    const nothing = { reason: 'nothing was counted on at this point' };
    const gap = laneyPChart(
      [...ANSWERED.slice(0, 5), 0, ...ANSWERED.slice(5)],
      [...ALARMS.slice(0, 5), 0, ...ALARMS.slice(5)],
    );
    const plain = laneyPChart(ANSWERED, ALARMS);
    expect(gap.baseline).toEqual(plain.baseline);
    expect(gap.points[5]).toEqual({ value: nothing, lower: nothing, upper: nothing, beyond: null });
    expect(gap.points.filter((_, i) => i !== 5)).toEqual(plain.points);
  });

  it.each<[string, AttributesChart, string]>([
    ['of none', pChart([], []), 'there is nothing to count on'],
    ['of sizes of 0', uChart([0, 0], [0, 0]), 'there is nothing to count on'],
    [
      'of what never happened',
      uChart([0, 0], [3, 4]),
      'it happened never or always, so that nothing tells how far points would vary',
    ],
    [
      'of what always happened',
      pChart([3, 4], [3, 4]),
      'it happened never or always, so that nothing tells how far points would vary',
    ],
    [
      'of one point, after Laney',
      laneyUChart([3], [4]),
      'how much points vary beyond chance needs two points, and there are fewer',
    ],
  ])('say why there are no limits %s', (_name, { baseline, reason, points }, expected) => {
    expect(baseline).toBeNull();
    expect(reason).toBe(expected);
    for (const { lower, upper } of points) expect([lower, upper]).toEqual([{ reason }, { reason }]);
  });

  it('refuse what are no counts', () => {
    expect(() => pChart([3], [2])).toThrow(
      'Expected counts that are not larger than what they are a part of',
    );
    expect(() => pChart([1, 2], [2])).toThrow('Expected a size for each of 2 counts, and got 1');
    expect(() => uChart([-1], [2])).toThrow('Expected counts and sizes that are finite and not negative');
    expect(() => uChart([1], [Number.NaN])).toThrow(
      'Expected counts and sizes that are finite and not negative',
    );
    expect(() => uChart([1, 1], [0, 1])).toThrow('Expected no count where the size is 0');
  });
});
