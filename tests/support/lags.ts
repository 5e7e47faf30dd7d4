import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { OnsetLags } from '../../src/summarize/alarms/patient-audit.js';

/** Invented crossings and alarms of one patient. */
export interface LagsOf {
  readonly seed: number;
  /** Crossings, of which half come in bursts a minute or so apart, as slow waves make them. */
  readonly crossings: number;
  /** Alarms that follow a crossing. */
  readonly following: number;
  /** Alarms that have to do with no crossing; half of them come in bursts. */
  readonly random: number;
  /** What the clock of the alarm log is ahead, and what the monitor waits, seconds; it spreads by up to 4 s. */
  readonly offsetSeconds?: number;
  readonly delaySeconds?: number;
  readonly days?: number;
}

export const REACH_SECONDS = 7200;
const DAY_SECONDS = 86_400;

/** The histogram of onset minus crossing, counted pair by pair. */
export function lagsOf(input: LagsOf): OnsetLags {
  const { seed, crossings, following, random, offsetSeconds = 0, delaySeconds = 5, days = 5 } = input;
  const source = xoroshiro128plus(seed);
  const uniform = (): number => uniformFloat64(source);
  const scattered = (n: number): number[] => {
    const times: number[] = [];
    while (times.length < n) {
      const start = uniform() * days * DAY_SECONDS;
      const burst = uniform() < 0.2 ? 5 : 1;
      for (let k = 0; k < burst && times.length < n; k++) times.push(start + k * (30 + 60 * uniform()));
    }
    return times;
  };
  const crossed = scattered(crossings);
  const onsets = [
    ...Array.from({ length: following }, (_, k) => {
      return crossed[k % crossings] + delaySeconds + offsetSeconds + 8 * (uniform() - 0.5);
    }),
    ...scattered(random),
  ];
  const counts = new Uint32Array(2 * REACH_SECONDS + 1);
  for (const onset of onsets) {
    for (const crossing of crossed) {
      const at = Math.round(onset - crossing) + REACH_SECONDS;
      if (at >= 0 && at < counts.length) counts[at]++;
    }
  }
  return { reachSeconds: REACH_SECONDS, counts, alarms: onsets.length };
}
