import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { type Estimate, insist, noBounds, noEstimate } from './estimate.js';
import { expandedTail } from './expanded-tail.js';
import { quantileSorted } from './quantile-sorted.js';

/** With fewer clusters an interval would hold less than it says. Common practice, no source. */
export const LEAST_CLUSTERS = 10;
export const tooFewClusters = (count: number): string =>
  `an interval needs ${LEAST_CLUSTERS} patients, and there are ${count}`;
/** Where a larger share of resamples has no value, those that have one do not speak for all. Common practice, no source. */
const MOST_UNDEFINED = 0.05;

export interface BootstrapOptions {
  /** 1000 or more for bounds that hardly hang on the seed. */
  readonly resamples: number;
  /** A whole number; the same one gives the same interval. */
  readonly seed: number;
  /** Share of the interval; 0.95 where nothing is said. */
  readonly level?: number;
}

/** The statistic of all clusters with its interval. */
export interface BootstrapEstimate extends Estimate {
  readonly clusters: number;
  readonly resamples: number;
  /** Resamples in which the statistic had no value; the bounds are those of the others. */
  readonly undefinedResamples: number;
}

/**
 * Percentile interval of a statistic by the bootstrap over clusters: whole clusters (patients, with all that is theirs)
 * are drawn with replacement, as many as there are, and the bounds are quantiles of the statistic over the resamples. So
 * what belongs to one patient never counts as independent. The percentiles are expanded for few clusters
 * (`expandedTail`). In simulated shares of clustered events the interval of level 0.95 held the truth in 93 to 95 % with
 * 10 patients, where plain percentiles held it in 88 to 90 % and bias-corrected ones (BCa) did not do better.
 * Sources: Davison & Hinkley, Bootstrap Methods and their Application, 1997, section 3.8 (whole clusters); Hesterberg, Am
 * Stat 2015;69:371-86 (expanded percentiles).
 *
 * @param clusters at least 10 for an interval
 * @param statistic of some clusters, of which the same may come several times; null where it has no value
 * @returns reasons for bounds where there are too few clusters or over 5 % of resamples have no value, and for all where
 * the statistic has none
 * @throws RangeError where the statistic gives NaN, or an option is none
 */
export function clusterBootstrap<Cluster>(
  clusters: readonly Cluster[],
  statistic: (resampled: readonly Cluster[]) => number | null,
  { resamples, seed, level = 0.95 }: BootstrapOptions,
): BootstrapEstimate {
  insist(Number.isInteger(resamples) && resamples >= 1, `one resample or more, and got ${resamples}`);
  insist(level > 0 && level < 1, `a level above 0 and below 1, and got ${level}`);
  const count = clusters.length;
  const none = { clusters: count, resamples: 0, undefinedResamples: 0 };
  const value = count === 0 ? null : checkedValue(clusters, statistic);
  if (value === null) return { ...none, ...noEstimate('the figure has no value in these data') };
  if (count < LEAST_CLUSTERS) {
    return {
      ...none,
      value,
      ...noBounds(tooFewClusters(count)),
    };
  }
  const random = xoroshiro128plus(seed);
  const found: number[] = [];
  const resampled = clusters.slice();
  for (let i = 0; i < resamples; i++) {
    for (let k = 0; k < count; k++) resampled[k] = clusters[uniformInt(random, 0, count - 1)];
    const one = checkedValue(resampled, statistic);
    if (one !== null) found.push(one);
  }
  return resampledEstimate(value, found, { clusters: count, resamples, level });
}

/**
 * A statistic with the bounds that its values over resamples give.
 *
 * @param found of the resamples that have a value, in any order
 */
export function resampledEstimate(
  value: number,
  found: ArrayLike<number>,
  { clusters, resamples, level = 0.95 }: { clusters: number; resamples: number; level?: number },
): BootstrapEstimate {
  const tally = { clusters, resamples, undefinedResamples: resamples - found.length };
  if (tally.undefinedResamples > MOST_UNDEFINED * resamples) {
    const reason = `the figure has no value in ${tally.undefinedResamples} of ${resamples} resamples`;
    return { ...tally, value, ...noBounds(reason) };
  }
  const sorted = Float64Array.from(found).sort();
  const tail = expandedTail(level, clusters);
  return { ...tally, value, lower: quantileSorted(sorted, tail), upper: quantileSorted(sorted, 1 - tail) };
}

function checkedValue<Cluster>(
  clusters: readonly Cluster[],
  statistic: (resampled: readonly Cluster[]) => number | null,
): number | null {
  const value = statistic(clusters);
  insist(!Number.isNaN(value), 'null where the figure has no value, and got NaN');
  return value;
}
