import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { clusterBootstrap } from '../../../src/summarize/statistics/cluster-bootstrap.js';
import { expandedTail, studentReach } from '../../../src/summarize/statistics/expanded-tail.js';
import { kaplanMeier } from '../../../src/summarize/statistics/kaplan-meier.js';
import { quantileSorted } from '../../../src/summarize/statistics/quantile-sorted.js';
import { wilsonInterval } from '../../../src/summarize/statistics/wilson-interval.js';
import { orNull } from '../../support/followed.js';
import { noise } from '../../support/noise.js';
import { runR } from '../../support/r.js';

type Counts = readonly [events: number, of: number];

const shareOf = (clusters: readonly Counts[]): number => {
  const sum = (k: 0 | 1): number => clusters.reduce((total, one) => total + one[k], 0);
  return sum(0) / sum(1);
};

/** Invented patients with 3 to 40 alarms each, of which a share is answered that differs between patients. */
function patients(seed: number): () => Counts {
  const random = xoroshiro128plus(seed);
  const effect = noise(seed + 1);
  return () => {
    const p = 1 / (1 + Math.exp(-(0.8 + effect())));
    const of = uniformInt(random, 3, 40);
    let events = 0;
    for (let i = 0; i < of; i++) if (uniformFloat64(random) < p) events++;
    return [events, of];
  };
}

const many = <T>(count: number, next: () => T): T[] => Array.from({ length: count }, next);
const SOME = many(30, patients(5));

describe('the interval of a share of clustered events', () => {
  const next = patients(11);
  const truth = shareOf(many(200_000, next));

  it.each([12, 30])(
    'with %d patients holds the truth in 92 to 98 of 100, where that for independent ones does not',
    (count) => {
      const sets = 1000;
      let held = 0;
      let heldByWilson = 0;
      for (let seed = 0; seed < sets; seed++) {
        const clusters = many(count, next);
        const { lower, upper } = clusterBootstrap(clusters, shareOf, { resamples: 400, seed });
        if (orNull(lower)! <= truth && truth <= orNull(upper)!) held++;
        const [events, of] = clusters.reduce(([a, b], [c, d]) => [a + c, b + d], [0, 0]);
        const plain = wilsonInterval(events, of);
        if (orNull(plain.lower)! <= truth && truth <= orNull(plain.upper)!) heldByWilson++;
      }
      expect(held / sets).toBeGreaterThan(0.92);
      expect(held / sets).toBeLessThan(0.98);
      expect(heldByWilson / sets).toBeLessThan(0.75);
    },
  );

  // Closed form: of a mean over many clusters it is mean +- t s / sqrt(n), here to a tenth of the width.
  it('of a mean is as wide as that by Student', () => {
    const draw = noise(3);
    const values = many(40, draw);
    const mean = (list: readonly number[]): number => list.reduce((sum, x) => sum + x, 0) / list.length;
    const found = clusterBootstrap(values, mean, { resamples: 20_000, seed: 1 });
    const middle = mean(values);
    const sd = Math.sqrt(values.reduce((sum, x) => sum + (x - middle) ** 2, 0) / 39);
    const reach = (studentReach(0.95, 39) * sd) / Math.sqrt(40);
    expect(found.value).toBe(middle);
    expect(Math.abs(orNull(found.lower)! - (middle - reach))).toBeLessThan(0.1 * reach);
    expect(Math.abs(orNull(found.upper)! - (middle + reach))).toBeLessThan(0.1 * reach);
  });
});

describe('the bootstrap over clusters', () => {
  it('is the same for the same seed, and hardly another for another', () => {
    const of = (seed: number) => clusterBootstrap(SOME, shareOf, { resamples: 2000, seed });
    expect(of(1)).toEqual(of(1));
    expect(of(2)).not.toEqual(of(1));
    expect(orNull(of(2).lower)!).toBeCloseTo(orNull(of(1).lower)!, 1);
  });

  it('draws whole clusters, as many as there are', () => {
    const tally = new Map<Counts, number>();
    let calls = 0;
    clusterBootstrap(
      SOME,
      (clusters) => {
        expect(clusters.length).toBe(SOME.length);
        // The first call is for the figure itself.
        if (calls++ > 0) for (const one of clusters) tally.set(one, (tally.get(one) ?? 0) + 1);
        return 0;
      },
      { resamples: 1000, seed: 3 },
    );
    expect(calls).toBe(1001);
    // Each is drawn about once a resample: 1000 times, with a standard deviation of 31.
    for (const one of SOME) expect(Math.abs(tally.get(one)! - 1000)).toBeLessThan(160);
  });

  it('is narrower at a lower level', () => {
    const width = (level: number): number => {
      const { lower, upper } = clusterBootstrap(SOME, shareOf, { resamples: 2000, seed: 1, level });
      return orNull(upper)! - orNull(lower)!;
    };
    expect(width(0.8)).toBeLessThan(width(0.95));
  });

  it('takes any figure, as the median of times to an answer', () => {
    const random = xoroshiro128plus(9);
    const stays = many(20, () =>
      many(uniformInt(random, 1, 9), () => ({
        seconds: Math.ceil(300 * -Math.log(1 - uniformFloat64(random))),
        isAnswered: uniformFloat64(random) < 0.8,
      })),
    );
    const medianOf = (clusters: readonly (typeof stays)[number][]): number | null => {
      const alarms = clusters.flat();
      return orNull(
        kaplanMeier(
          alarms.map(({ seconds }) => seconds),
          alarms.map(({ isAnswered }) => isAnswered),
        ).median.value,
      );
    };
    const { value, lower, upper } = clusterBootstrap(stays, medianOf, { resamples: 500, seed: 4 });
    expect(value).toBe(medianOf(stays));
    expect(orNull(lower)!).toBeLessThan(orNull(value)!);
    expect(orNull(upper)!).toBeGreaterThan(orNull(value)!);
  });

  it('counts resamples without a value, and gives no bounds where they are many', () => {
    // Without a value where cluster 0 is not drawn: about (1 - 1/10)^10 = 35 % of resamples.
    const first = (clusters: readonly number[]): number | null =>
      clusters.includes(0) ? clusters.reduce((sum, x) => sum + x, 0) : null;
    const ten = many(10, () => 0).map((_, i) => i);
    const often = clusterBootstrap(ten, first, { resamples: 1000, seed: 8 });
    expect(often.value).toBe(45);
    expect(often.undefinedResamples).toBeGreaterThan(290);
    expect(often.undefinedResamples).toBeLessThan(410);
    const reason = { reason: `the figure has no value in ${often.undefinedResamples} of 1000 resamples` };
    expect([often.lower, often.upper]).toEqual([reason, reason]);

    // Of four such clusters among ten, (1 - 4/10)^10 = 0.6 %.
    const seldom = clusterBootstrap(ten, (all) => (all.some((x) => x < 4) ? 1 : null), {
      resamples: 1000,
      seed: 8,
    });
    expect(seldom.undefinedResamples).toBeGreaterThan(0);
    expect(seldom.undefinedResamples).toBeLessThan(20);
    expect([seldom.lower, seldom.upper]).toEqual([1, 1]);
  });

  it('gives no interval of few patients, and nothing where there is no figure', () => {
    const few = clusterBootstrap(SOME.slice(0, 9), shareOf, { resamples: 100, seed: 1 });
    const reason = { reason: 'an interval needs 10 patients, and there are 9' };
    expect(few).toEqual({
      value: shareOf(SOME.slice(0, 9)),
      lower: reason,
      upper: reason,
      clusters: 9,
      resamples: 0,
      undefinedResamples: 0,
    });
    const none = { reason: 'the figure has no value in these data' };
    expect(clusterBootstrap(SOME, () => null, { resamples: 100, seed: 1 }).value).toEqual(none);
    expect(clusterBootstrap([], () => 1, { resamples: 100, seed: 1 }).lower).toEqual(none);
  });

  it('refuses what is no number of resamples or no level', () => {
    expect(() => clusterBootstrap(SOME, shareOf, { resamples: 0, seed: 1 })).toThrow(
      'Expected one resample or more, and got 0',
    );
    expect(() => clusterBootstrap(SOME, shareOf, { resamples: 9, seed: 1, level: 95 })).toThrow(
      'Expected a level above 0 and below 1, and got 95',
    );
    expect(() => clusterBootstrap(SOME, () => Number.NaN, { resamples: 9, seed: 1 })).toThrow(
      'Expected null where the figure has no value, and got NaN',
    );
  });
});

describe('quantiles of the bootstrap', () => {
  const COUNTS = [10, 11, 15, 30, 100, 1000];

  // Outside source: R, quantile(type = 7), to a relative 1e-12.
  it('are those of R', () => {
    const sorted = many(37, noise(2)).sort((a, b) => a - b);
    const shares = [0, 0.025, 0.1, 0.5, 0.77, 0.975, 1];
    const theirs = runR<number[]>('unname(quantile(input$sorted, input$shares))', { sorted, shares });
    shares.forEach((p, i) => {
      expect(Math.abs(quantileSorted(sorted, p) - theirs[i])).toBeLessThan(1e-12 * Math.abs(theirs[i]));
    });
    expect(quantileSorted([7], 0.3)).toBe(7);
  });

  // Outside source: R, qt and pnorm; ours is an expansion, so to a relative 1e-4.
  it('are taken at the tail that R gives', () => {
    const theirs = runR<{ t: number[]; tail: number[] }>(
      `t <- qt(0.975, input$counts - 1)
       list(t = t, tail = pnorm(-sqrt(input$counts / (input$counts - 1)) * t))`,
      { counts: COUNTS },
    );
    COUNTS.forEach((count, i) => {
      expect(Math.abs(studentReach(0.95, count - 1) / theirs.t[i] - 1)).toBeLessThan(1e-4);
      expect(Math.abs(expandedTail(0.95, count) / theirs.tail[i] - 1)).toBeLessThan(1e-3);
    });
  });
});
