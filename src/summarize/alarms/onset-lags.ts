import { firstAtOrAfter } from '../../recording/search.js';
import type { OnsetLags } from './patient-audit.js';

/** Over two hours, so that a log in UTC shows in a zone two hours ahead, and one that missed a change to summer time. */
const REACH_SECONDS = 135 * 60;
/** Counts how long alarms came after crossings of their own limits, all pairs within 135 min. */
export class LagCounter implements OnsetLags {
  readonly reachSeconds = REACH_SECONDS;
  readonly counts = new Uint32Array(2 * REACH_SECONDS + 1);
  alarms = 0;

  /** @param crossingsSorted of the alarm's limit, milliseconds UTC */
  add(onset: number, crossingsSorted: readonly number[]): void {
    this.alarms++;
    const reachMs = REACH_SECONDS * 1000;
    for (let i = firstAtOrAfter(crossingsSorted, onset - reachMs); i < crossingsSorted.length; i++) {
      const lag = Math.round((onset - crossingsSorted[i]) / 1000);
      if (lag < -REACH_SECONDS) break;
      this.counts[lag + REACH_SECONDS]++;
    }
  }

  /** As plain data, which can go to another thread. */
  lags(): OnsetLags {
    const { reachSeconds, counts, alarms } = this;
    return { reachSeconds, counts, alarms };
  }
}
