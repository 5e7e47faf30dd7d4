import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { aalenJohansen } from '../../../src/summarize/statistics/aalen-johansen.js';
import { clusterBootstrap, resampledEstimate } from '../../../src/summarize/statistics/cluster-bootstrap.js';
import { Resampler } from '../../../src/summarize/statistics/resampler.js';
import { WeightedIncidence } from '../../../src/summarize/statistics/weighted-incidence.js';
import { followed, orNull } from '../../support/followed.js';
import { holds } from '../../support/properties.js';

const BY = [2, 5, 9];

/** Median and shares of cause 1 of the copies themselves. */
function ofCopies(times: readonly number[], causes: readonly number[]): (number | null)[] {
  const [incidence] = aalenJohansen(times, causes, 3).incidences;
  return [incidence.median.value, ...BY.map((time) => incidence.shareBy(time).value)].map(orNull);
}

describe('the incidence of clusters that count several times', () => {
  const people = fc.array(
    fc.record({
      cluster: fc.integer({ min: 0, max: 3 }),
      time: fc.integer({ min: 0, max: 12 }),
      cause: fc.integer({ min: 0, max: 3 }),
    }),
    { minLength: 1, maxLength: 14 },
  );
  const counts = fc.array(fc.integer({ min: 0, max: 3 }), { minLength: 4, maxLength: 4 });

  it('is to the last bit that of as many copies', () => {
    holds(
      fc.property(people, counts, (all, weights) => {
        const curve = new WeightedIncidence({
          clusters: all.map(({ cluster }) => cluster),
          times: all.map(({ time }) => time),
          causes: all.map(({ cause }) => cause),
        });
        const out = new Float64Array(1 + BY.length);
        curve.figures([9, ...weights], 1, BY, out);
        const copies = all.flatMap((one) => Array.from({ length: weights[one.cluster] }, () => one));
        expect(Array.from(out, (x) => (Number.isNaN(x) ? null : x))).toEqual(
          ofCopies(
            copies.map(({ time }) => time),
            copies.map(({ cause }) => cause),
          ),
        );
      }),
      2000,
    );
  });

  it('gives the bounds of the bootstrap over clusters, from the same draws', () => {
    const clusters = Array.from({ length: 12 }, (_, k) => followed(k, 1 + (k % 5), 30, 2));
    const index = clusters.flatMap(({ times }, k) => times.map(() => k));
    const curve = new WeightedIncidence({
      clusters: index,
      times: clusters.flatMap(({ times }) => times),
      causes: clusters.flatMap(({ causes }) => causes),
    });
    const [resamples, seed] = [200, 7];
    const draws = new Resampler(resamples, seed).counts(clusters.length);
    const out = new Float64Array(1 + BY.length);
    const found: number[][] = Array.from(out, () => []);
    for (let i = 0; i < resamples; i++) {
      curve.figures(draws, i * clusters.length, BY, out);
      out.forEach((x, k) => {
        if (!Number.isNaN(x)) found[k].push(x);
      });
    }
    out.forEach((_, k) => {
      const whole = clusterBootstrap(
        clusters,
        (some) =>
          ofCopies(
            some.flatMap(({ times }) => times),
            some.flatMap(({ causes }) => causes),
          )[k],
        { resamples, seed },
      );
      expect(typeof whole.lower).toBe(k === 0 ? typeof whole.lower : 'number');
      expect(resampledEstimate(orNull(whole.value) as number, found[k], { clusters: 12, resamples })).toEqual(
        whole,
      );
    });
  });
});
