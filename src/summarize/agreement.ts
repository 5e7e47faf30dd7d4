import type { Cleaning } from '../clean/clean.js';
import type { ChannelKind } from '../recording/channel.js';
import { difference } from '../recording/difference.js';
import type { Interval } from '../recording/interval.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import { type Signal, withoutIntervals } from '../recording/signal.js';
import type { ZoneClock } from '../recording/zone.js';
import { hoursIn } from './calendar.js';
import { levelChanges } from './level-changes.js';
import { limitsOfAgreement } from './limits-of-agreement.js';
import { whyNoWindow } from './resolvable.js';
import { type WindowMean, windowMeans } from './window-means.js';

const MINUTE_MS = 60_000;
/** With fewer minutes the limits would say little. Common practice, no source. */
const FEWEST_MINUTES = 30;
/** A level that lasts for so many minutes, known in both, is one. */
const LEVEL_MINUTES = 60;

/** The reason where there is nothing to compare. */
export const ONE_SOURCE = 'the exports hold one source of ICP';

/** What the pipeline file may change. */
export interface AgreementSettings {
  /** A lasting change of the difference by more than this says that a zero may have moved, mmHg. */
  readonly zeroMovedMmHg: number;
}

/** A lasting change of the difference: somewhere between the two instants. */
export interface ZeroMove extends Interval {
  /** Difference before and after, mmHg. */
  readonly beforeMmHg: number;
  readonly afterMmHg: number;
}

/** How far two sources of ICP in one recording agree; differences are the first minus the second, mmHg. */
export interface Agreement {
  readonly meanDifferenceMmHg: number;
  readonly sdMmHg: number;
  readonly lowerLimitMmHg: number;
  readonly upperLimitMmHg: number;
  /** One-min means of the difference that the figures rest on. */
  readonly means: readonly WindowMean[];
  readonly hours: readonly (Interval & {
    readonly minutes: number;
    readonly meanDifferenceMmHg: number | null;
  })[];
  readonly zeroMoves: readonly ZeroMove[];
  /** Why a moved zero could not be looked for; null where it could. */
  readonly zeroMovesReason: string | null;
  /** False where no care log tells when the drain was open. */
  readonly isOpeningKnown: boolean;
}

/** A source as it came, without what was removed and without the time over which a drain was open. */
export function comparable(recording: Recording, channel: ChannelKind, { marks }: Cleaning): Signal {
  const out = marks.filter(
    (mark) => mark.channel === channel && (mark.grade === 'removed' || mark.rule === 'openDrain'),
  );
  return withoutIntervals(rawSignal(recording, channel), out);
}

/**
 * Agreement of ICP through a probe and through a drain: mean difference and limits of agreement on 1-min means of the
 * difference, over minutes in which both are known for half or more. Means, since neighbouring samples are not
 * independent; suspect stretches stay in, since a wrong zero is what is looked for. Source of the limits: Bland &
 * Altman, Lancet 1986;1:307-10.
 *
 * @returns why there is none, as a text
 */
export function agreementOf(
  recording: Recording,
  cleaning: Cleaning,
  period: Interval,
  { zeroMovedMmHg }: AgreementSettings,
  clock: ZoneClock,
): Agreement | string {
  const { icp, icpDrain } = recording.channels;
  if (!icp || !icpDrain) return ONE_SOURCE;
  const coarse = whyNoWindow(Math.max(icp.nominalIntervalMs, icpDrain.nominalIntervalMs), MINUTE_MS);
  if (coarse !== null) return coarse;
  const apart = difference(
    comparable(recording, 'icp', cleaning),
    comparable(recording, 'icpDrain', cleaning),
  );
  const means = windowMeans(apart, period, 1);
  if (means.length < FEWEST_MINUTES) {
    return `both sources are known together for ${means.length} min, and ${FEWEST_MINUTES} min are needed`;
  }
  const { mean, sd, lower, upper } = limitsOfAgreement(means.map((one) => one.mean));
  const changes = levelChanges(means, LEVEL_MINUTES, zeroMovedMmHg);
  return {
    meanDifferenceMmHg: mean,
    sdMmHg: sd,
    lowerLimitMmHg: lower,
    upperLimitMmHg: upper,
    means,
    hours: hoursIn(period, clock).map((hour) => {
      const inside = means.filter(({ start }) => start >= hour.start && start < hour.end);
      const sum = inside.reduce((all, one) => all + one.mean, 0);
      return {
        ...hour,
        minutes: inside.length,
        meanDifferenceMmHg: inside.length === 0 ? null : sum / inside.length,
      };
    }),
    zeroMoves: changes.map(({ last, first, before, after }) => ({
      start: means[last].start + MINUTE_MS,
      end: means[first].start,
      beforeMmHg: before,
      afterMmHg: after,
    })),
    zeroMovesReason:
      means.length < 2 * LEVEL_MINUTES
        ? `both sources are known together for ${means.length} min, and ${2 * LEVEL_MINUTES} min are needed`
        : null,
    isOpeningKnown: recording.care !== undefined,
  };
}
