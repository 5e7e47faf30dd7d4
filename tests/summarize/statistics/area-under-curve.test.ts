import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { areaUnderCurve, compareAreas } from '../../../src/summarize/statistics/area-under-curve.js';
import { rankSumTest } from '../../../src/summarize/statistics/rank-sum-test.js';
import { Resampler } from '../../../src/summarize/statistics/resampler.js';
import { WeightedArea } from '../../../src/summarize/statistics/weighted-area.js';
import { expectSame, orNull } from '../../support/followed.js';
import { noise } from '../../support/noise.js';
import { holds } from '../../support/properties.js';
import { runR } from '../../support/r.js';

interface OfR {
  readonly poor: number[];
  readonly markers: Record<'s100b' | 'ndka' | 'wfns', number[]>;
  /** Lower bound, area, upper bound. */
  readonly intervals: Record<'s100b' | 'ndka' | 'wfns', number[]>;
  readonly variances: Record<'s100b' | 'ndka' | 'wfns', number>;
  readonly comparisons: {
    readonly pair: ['s100b', 'wfns'];
    readonly z: number;
    readonly p: number;
    readonly interval: number[];
  }[];
}

let theirs: OfR;

beforeAll(() => {
  theirs = runR<OfR>(
    `suppressMessages(library(pROC)); data(aSAH)
     names <- c("s100b", "ndka", "wfns")
     markers <- lapply(setNames(names, names), function(k) as.numeric(aSAH[[k]]))
     poor <- as.numeric(aSAH$outcome == "Poor")
     curves <- lapply(markers, function(x) roc(poor, x, levels = 0:1, direction = "<"))
     compared <- lapply(list(c("s100b", "wfns"), c("ndka", "s100b"), c("wfns", "ndka")), function(k) {
       t <- roc.test(curves[[k[1]]], curves[[k[2]]], method = "delong", paired = TRUE)
       list(pair = k, z = unname(t$statistic), p = t$p.value, interval = as.numeric(t$conf.int)) })
     list(poor = poor, markers = markers, intervals = lapply(curves, function(r) as.numeric(ci.auc(r))),
       variances = lapply(curves, var), comparisons = compared)`,
    null,
  );
});

describe('the area under the curve', () => {
  // Outside source: R, package pROC, data aSAH (113 patients after subarachnoid haemorrhage): ci.auc by DeLong, to a
  // relative 1e-9, and the figures that it prints.
  it('is that of R, with its interval', () => {
    const { poor, markers, intervals, variances } = theirs;
    for (const name of ['s100b', 'ndka', 'wfns'] as const) {
      const { lower, value, upper, standardError, withEvent, withoutEvent } = areaUnderCurve(
        markers[name],
        poor,
      );
      expectSame([orNull(lower), orNull(value), orNull(upper)], intervals[name]);
      expectSame([orNull(standardError)! ** 2], [variances[name]]);
      expect([withEvent, withoutEvent]).toEqual([41, 72]);
    }
    const s100b = areaUnderCurve(markers.s100b, poor);
    expect(orNull(s100b.value)).toBeCloseTo(0.7313686, 7);
    expect(orNull(s100b.lower)).toBeCloseTo(0.6301182, 7);
    expect(orNull(s100b.upper)).toBeCloseTo(0.8326189, 7);
    expect(orNull(areaUnderCurve(markers.wfns, poor).value)).toBeCloseTo(0.8236789, 7);
    expect(orNull(areaUnderCurve(markers.ndka, poor).value)).toBeCloseTo(0.611958, 6);
  });

  // Outside source: R, package pROC, roc.test(method = "delong", paired = TRUE).
  it('of two markers of the same patients is compared as in R', () => {
    for (const { pair, z, p, interval } of theirs.comparisons) {
      const [first, second] = pair.map((name) => theirs.markers[name]);
      const found = compareAreas(first, second, theirs.poor);
      expectSame([orNull(found.value)! / orNull(found.standardError)!, orNull(found.p)], [z, p]);
      // pROC 1.18 takes the interval of the difference at the same level.
      expectSame([orNull(found.lower), orNull(found.upper)], interval);
      const back = compareAreas(second, first, theirs.poor);
      expectSame([orNull(back.p), -orNull(back.value)!], [orNull(found.p), orNull(found.value)]);
    }
  });

  const patients = fc.array(
    fc.record({
      value: fc.integer({ min: -5, max: 5 }),
      event: fc.boolean(),
      count: fc.integer({ min: 0, max: 3 }),
    }),
    { minLength: 2, maxLength: 30 },
  );

  it('is the share of pairs, that of the mirrored values is what it leaves, and W tells the same', () => {
    holds(
      fc.property(patients, (all) => {
        const values = all.map(({ value }) => value);
        const events = all.map(({ event }) => event);
        const area = areaUnderCurve(values, events);
        const mirrored = areaUnderCurve(
          values.map((x) => -x),
          events,
        );
        const having = all.filter(({ event }) => event).map(({ value }) => value);
        const free = all.filter(({ event }) => !event).map(({ value }) => value);
        if (having.length === 0 || free.length === 0) {
          const reason = 'all or none have the event, so that there is nobody to compare with';
          expect([area.value, area.lower, area.standardError]).toEqual([{ reason }, { reason }, { reason }]);
          return;
        }
        let pairs = 0;
        for (const x of having) for (const y of free) pairs += x > y ? 1 : x === y ? 0.5 : 0;
        expect(area.value).toBe(pairs / (having.length * free.length));
        expect(orNull(area.value)! + orNull(mirrored.value)!).toBeCloseTo(1, 14);
        expectSame([orNull(area.standardError)], [orNull(mirrored.standardError)]);
        expect(rankSumTest(having, free).pairsHigher).toBe(pairs);
        if (typeof area.lower === 'number') {
          expect(area.lower).toBeGreaterThanOrEqual(0);
          expect(area.upper).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  // Brute force: DeLong's components from all pairs.
  it('has the variance of its components', () => {
    const draw = noise(6);
    const having = Array.from({ length: 9 }, () => Math.round(2 * draw() + 2));
    const free = Array.from({ length: 14 }, () => Math.round(2 * draw()));
    const above = (x: number, y: number): number => (x > y ? 1 : x === y ? 0.5 : 0);
    const mean = (list: number[]): number => list.reduce((sum, x) => sum + x, 0) / list.length;
    const varianceOfMean = (list: number[]): number =>
      list.reduce((sum, x) => sum + (x - mean(list)) ** 2, 0) / (list.length - 1) / list.length;
    const variance =
      varianceOfMean(having.map((x) => mean(free.map((y) => above(x, y))))) +
      varianceOfMean(free.map((y) => mean(having.map((x) => above(x, y)))));
    const { standardError } = areaUnderCurve(
      [...having, ...free],
      [...having.map(() => 1), ...free.map(() => 0)],
    );
    expectSame([orNull(standardError)], [Math.sqrt(variance)]);
  });

  it('of patients who count several times is that of as many copies', () => {
    holds(
      fc.property(patients, (all) => {
        const copies = all.flatMap((one) => new Array<typeof one>(one.count).fill(one));
        const { value } = areaUnderCurve(
          copies.map((one) => one.value),
          copies.map(({ event }) => event),
        );
        const weighted = new WeightedArea(
          all.map((one) => one.value),
          all.map(({ event }) => event),
        );
        expectSame([weighted.area([9, ...all.map(({ count }) => count)], 1)], [orNull(value)]);
      }),
    );
  });

  // The bootstrap's standard deviation of the area of s100b, about that of DeLong: 2000 resamples tell it to 2 %.
  it('varies between resamples as its standard error says', () => {
    const { markers, poor } = theirs;
    const area = new WeightedArea(markers.s100b, poor);
    const counts = new Resampler(2000, 4).counts(poor.length);
    const found = Array.from({ length: 2000 }, (_, i) => area.area(counts, i * poor.length)!);
    const mean = found.reduce((sum, x) => sum + x, 0) / found.length;
    const sd = Math.sqrt(found.reduce((sum, x) => sum + (x - mean) ** 2, 0) / found.length);
    const { standardError } = areaUnderCurve(markers.s100b, poor);
    expect(Math.abs(sd / orNull(standardError)! - 1)).toBeLessThan(0.1);
  });

  it('says why where nothing tells how far off it is', () => {
    const parted = areaUnderCurve([1, 2, 3, 4], [0, 0, 1, 1]);
    const reason =
      'the values part all with the event from all without it, so that nothing tells how far off it may be';
    expect(parted).toEqual({
      value: 1,
      lower: { reason },
      upper: { reason },
      standardError: { reason },
      withEvent: 2,
      withoutEvent: 2,
    });
    expect(areaUnderCurve([7, 7, 7, 7], [0, 0, 1, 1])).toMatchObject({
      value: 0.5,
      lower: { reason: 'all values are the same' },
    });
    expect(areaUnderCurve([1, 2, 3], [0, 0, 1]).lower).toEqual({
      reason: 'how far off the area may be needs two patients with the event and two without',
    });
    expect(compareAreas([1, 3, 2, 4], [10, 30, 20, 40], [0, 1, 0, 1])).toMatchObject({
      value: 0,
      p: {
        reason:
          'the two differ alike in all patients, so that nothing tells how far off the difference may be',
      },
    });
    expect(() => areaUnderCurve([1], [1, 0])).toThrow('Expected a value for each of 2 events, and got 1');
    expect(() => areaUnderCurve([1, 2], [1, 2])).toThrow('Expected events that are true or false');
  });
});
