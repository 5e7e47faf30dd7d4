import { insist } from './estimate.js';
import { ALIKE } from './event-curve.js';
import { ALL_BUT_ROUNDING } from './rounding.js';

/** Times to the first event, of which each belongs to a cluster. */
export interface ClusteredTimes {
  /** From 0 on. */
  readonly clusters: readonly number[];
  /** Finite, not negative. */
  readonly times: readonly number[];
  /** 0 where observation ended without an event, 1 where what is asked for came first, higher where something else did. */
  readonly causes: readonly number[];
}

/**
 * Cumulative incidence of the first cause with each cluster counted so many times, in one pass over times that are sorted
 * once: the figures of `aalenJohansen` of as many copies, to the last bit.
 */
export class WeightedIncidence {
  private readonly times: Float64Array;
  private readonly clusters: Uint32Array;
  private readonly causes: Uint8Array;

  constructor({ clusters, times, causes }: ClusteredTimes) {
    insist(clusters.length === times.length && causes.length === times.length, 'lists of one length');
    insist(times.every(Number.isFinite), 'finite times');
    const order = Uint32Array.from(times, (_, i) => i).sort((a, b) => times[a] - times[b]);
    this.times = Float64Array.from(order, (i) => times[i]);
    this.clusters = Uint32Array.from(order, (i) => clusters[i]);
    this.causes = Uint8Array.from(order, (i) => causes[i]);
  }

  /**
   * Writes the median and the shares by some times; NaN where `aalenJohansen` gives a reason.
   *
   * @param counts how often each cluster counts, from `offset` on
   * @param by rising
   * @param out the median, then the shares
   */
  figures(counts: ArrayLike<number>, offset: number, by: readonly number[], out: Float64Array): void {
    const { times, clusters, causes } = this;
    const n = times.length;
    out.fill(Number.NaN);
    let atRisk = 0;
    for (let i = 0; i < n; i++) atRisk += counts[offset + clusters[i]];
    if (atRisk === 0) return;
    let [free, incidence] = [1, 0];
    let next = 0;
    let lastTime = 0;
    let lastCensored = 0;
    // The share at one half, while a later rise may still move the median; NaN else.
    let half = Number.NaN;
    for (let i = 0; i < n; ) {
      const time = times[i];
      let [mine, any, censored] = [0, 0, 0];
      for (; i < n && times[i] === time; i++) {
        const count = counts[offset + clusters[i]];
        if (causes[i] === 0) censored += count;
        else {
          any += count;
          if (causes[i] === 1) mine += count;
        }
      }
      if (any + censored === 0) continue;
      for (; next < by.length && by[next] < time; next++) out[1 + next] = incidence;
      incidence += free * (mine / atRisk);
      free *= (atRisk - any) / atRisk;
      if (incidence > ALL_BUT_ROUNDING) incidence = 1;
      if (Number.isNaN(out[0])) {
        if (incidence > 0.5 - ALIKE) {
          out[0] = time;
          if (incidence - 0.5 < ALIKE) half = incidence;
        }
      } else if (incidence > half) {
        out[0] = (out[0] + time) / 2;
        half = Number.NaN;
      }
      atRisk -= any + censored;
      lastTime = time;
      lastCensored = censored;
    }
    for (; next < by.length; next++) {
      if (by[next] <= lastTime || lastCensored === 0) out[1 + next] = incidence;
    }
  }
}
