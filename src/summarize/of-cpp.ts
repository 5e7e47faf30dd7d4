import type { Cleaning } from '../clean/clean.js';
import type { Interval } from '../recording/interval.js';
import { type Recording, rawSignal } from '../recording/recording.js';
import { withoutIntervals } from '../recording/signal.js';
import { type SetTarget, targetsInForce } from './cpp-targets.js';
import { type ClockLag, clockLag } from './lag/clock-lag.js';
import { type LowCpp, lowCpp } from './low-cpp.js';
import { type OwnCpp, ownCpp } from './own-cpp.js';
import type { Sampled } from './perfusion/reactivity.js';
import type { RecordingSummary, SummarizeSettings } from './summarize.js';

/** What is known of CPP beside its figures. */
export interface OfCpp {
  readonly lowCpp: LowCpp;
  /** Null where the export holds no CPP of its own. */
  readonly ownCpp: OwnCpp | null;
  readonly clockLag: ClockLag;
}

/** Coughs raise ICP and MAP at once, so that they tell best whether clocks are apart. */
const COUGHS: readonly string[] = ['briefSpike', 'coughTrain'];

/** A channel without what was removed, but for coughs. */
const eventful = (recording: Recording, channel: 'icp' | 'map', { marks }: Cleaning): Sampled => ({
  intervalMs: recording.channels[channel]?.nominalIntervalMs || 0,
  signal: withoutIntervals(
    rawSignal(recording, channel),
    marks.filter(
      (mark) => mark.channel === channel && mark.grade === 'removed' && !COUGHS.includes(mark.rule),
    ),
  ),
});

/** By how much the clocks of ICP and MAP are apart, as far as what cleaning kept and coughs tell. */
export const clockLagIn = (recording: Recording, cleaning: Cleaning, period: Interval): ClockLag =>
  clockLag(eventful(recording, 'icp', cleaning), eventful(recording, 'map', cleaning), period);

/** Computes what stands beside the figures of CPP, from the signals that they were made of. */
export function ofCpp(
  recording: Recording,
  cleaning: Cleaning,
  { signals, levelSteps }: Pick<RecordingSummary, 'signals' | 'levelSteps'>,
  { cppEpisodes }: SummarizeSettings,
  targets: readonly SetTarget[],
  period: Interval,
): OfCpp {
  const intervalMs = Math.max(
    ...[recording.channels.icp, recording.channels.map].map((channel) => channel?.nominalIntervalMs || 0),
  );
  const inForce = targetsInForce(targets, cppEpisodes.threshold);
  return {
    lowCpp: lowCpp(signals.cpp, inForce, cppEpisodes, intervalMs, period),
    ownCpp: ownCpp(recording, cleaning, levelSteps, period),
    clockLag: clockLagIn(recording, cleaning, period),
  };
}
