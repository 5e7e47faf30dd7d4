import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** So many numbers of clusters are kept at a time: each takes 2 bytes a cluster and resample. */
const MOST_KEPT = 8;

/**
 * How often each cluster comes in each resample: the draws of `clusterBootstrap` with the same seed, kept as counts, so
 * that many figures of as many clusters share them.
 */
export class Resampler {
  private readonly byCount = new Map<number, Uint16Array>();

  constructor(
    readonly resamples: number,
    readonly seed: number,
  ) {}

  /** Of resample `i` the counts of all clusters stand from `i * clusters` on. */
  counts(clusters: number): Uint16Array {
    const known = this.byCount.get(clusters);
    if (known) return known;
    const counts = new Uint16Array(this.resamples * clusters);
    const random = xoroshiro128plus(this.seed);
    for (let i = 0; i < this.resamples; i++) {
      for (let k = 0; k < clusters; k++) counts[i * clusters + uniformInt(random, 0, clusters - 1)]++;
    }
    if (this.byCount.size >= MOST_KEPT) this.byCount.clear();
    this.byCount.set(clusters, counts);
    return counts;
  }
}
