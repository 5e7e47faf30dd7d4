import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import { type WithReasons, withReasons } from '../figure.js';
import { whyNoDose } from '../resolvable.js';
import { jointHoursIn } from './joint.js';

type JointKey = 'bothHours' | 'icpAloneHours' | 'cppAloneHours' | 'neitherHours';

/** Hours of ICP above and CPP below their limits, at once and each alone, or why there are none. */
export type JointFigures = WithReasons<JointKey>;

/** Limits of a joint burden, mmHg. */
export interface JointLimits {
  readonly icpAboveMmHg: number;
  readonly cppBelowMmHg: number;
}

/**
 * The joint burden over windows of time.
 *
 * @param intervalMs of CPP
 */
export function jointBurden(
  { icp, cpp }: { readonly icp: Signal; readonly cpp: Signal },
  windows: readonly Interval[],
  limits: JointLimits,
  intervalMs: number,
): JointFigures[] {
  const coarse = whyNoDose(intervalMs);
  return windows.map((window) => {
    const hours = jointHoursIn(icp, cpp, window, limits);
    const isKnown = Object.values(hours).some((one) => one > 0);
    const reason = isKnown ? coarse : 'no CPP in this time';
    const keys = Object.keys(hours) as JointKey[];
    return withReasons(
      Object.fromEntries(keys.map((key) => [key, reason === null ? hours[key] : { reason }])) as never,
    );
  });
}
