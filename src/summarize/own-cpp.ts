import type { Cleaning } from '../clean/clean.js';
import { difference } from '../recording/difference.js';
import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import { median } from '../recording/rolling-median.js';
import { comparable } from './agreement.js';
import { type LevelChange, levelChanges } from './level-changes.js';
import { type LevelStep, takenOffMap } from './levelling.js';
import { type LimitsOfAgreement, limitsOfAgreement } from './limits-of-agreement.js';
import { whyNoWindow } from './resolvable.js';
import { type WindowMean, windowMeans } from './window-means.js';

const MINUTE_MS = 60_000;
/** With fewer minutes the limits would say little. Common practice, no source. */
const FEWEST_MINUTES = 30;
/** A level that lasts for so many minutes, known in both, is one. */
const LEVEL_MINUTES = 60;
/** A lasting difference is of so much or more. Own convention: over what rounding and averaging make. */
export const LASTING_MMHG = 3;
/** A level is steady where so many of its minutes lie nearer to it than to none. Own convention. */
const STEADY_SHARE = 0.8;

/** A stretch of time over which the difference keeps its level; ends are those of minutes. */
export interface DifferenceLevel extends Interval {
  /** Median of the minutes, own minus computed, mmHg. */
  readonly differenceMmHg: number;
  /** True where four fifths of the minutes differ by more than half of it, to the same side. */
  readonly isSteady: boolean;
}

/** CPP as the monitor computed it, against MAP - ICP; differences are the monitor's own minus ours, mmHg. */
export interface OwnCpp {
  readonly minutes: number;
  /** Null where there is too little to compare, for the reason. */
  readonly limits: LimitsOfAgreement | null;
  readonly reason: string | null;
  /** One or more, in time order; none where there is too little to compare. */
  readonly levels: readonly DifferenceLevel[];
}

function levelOf(means: readonly WindowMean[]): DifferenceLevel {
  const middle = median(Float64Array.from(means, ({ mean }) => mean));
  const far = means.filter(({ mean }) => Math.sign(middle) * mean > Math.abs(middle) / 2);
  return {
    start: means[0].start,
    end: means[means.length - 1].start + MINUTE_MS,
    differenceMmHg: middle,
    isSteady: far.length >= STEADY_SHARE * means.length,
  };
}

/** The minutes between one change of level and the next. */
const partsOf = (means: readonly WindowMean[], changes: readonly LevelChange[]): (readonly WindowMean[])[] =>
  [0, ...changes.map(({ first }) => first)].map((from, i) => means.slice(from, changes[i]?.first));

/**
 * How far the CPP that an export holds lies from MAP - ICP of the same export, levelled where that was asked for: mean
 * difference and limits of agreement on 1-min means of the difference, and the levels that it keeps. Parts of ICP and
 * MAP that were removed are left out; suspect ones stay in, since the monitor's CPP rests on them too. No figure of CPP
 * comes from that channel. Source of the limits: Bland & Altman, Lancet 1986;1:307-10; levels: own convention.
 *
 * @returns null where the export holds no CPP
 */
export function ownCpp(
  recording: Recording,
  cleaning: Cleaning,
  steps: readonly LevelStep[],
  period: Interval,
): OwnCpp | null {
  const { cpp, icp, map } = recording.channels;
  if (!cpp) return null;
  const none = (minutes: number, reason: string): OwnCpp => ({ minutes, limits: null, reason, levels: [] });
  if (!icp || !map) return none(0, 'there is no MAP to compute CPP from');
  const coarse = whyNoWindow(
    Math.max(...[cpp, icp, map].map(({ nominalIntervalMs }) => nominalIntervalMs || 0)),
    MINUTE_MS,
  );
  if (coarse !== null) return none(0, coarse);
  const ours = difference(
    comparable(recording, 'map', cleaning),
    comparable(recording, 'icp', cleaning),
    takenOffMap(steps),
  );
  const means = windowMeans(difference(cpp.signal, ours), period, 1);
  if (means.length < FEWEST_MINUTES) {
    return none(
      means.length,
      `both are known together for ${means.length} min, and ${FEWEST_MINUTES} min are needed`,
    );
  }
  const parts = partsOf(means, levelChanges(means, LEVEL_MINUTES, LASTING_MMHG));
  return {
    minutes: means.length,
    limits: limitsOfAgreement(means.map(({ mean }) => mean)),
    reason: null,
    levels: parts.map(levelOf),
  };
}
