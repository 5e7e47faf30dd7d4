import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import { type SetTarget, targetsInForce } from './cpp-targets.js';
import { type LowCpp, lowCpp } from './low-cpp.js';
import type { RecordingSummary, SummarizeSettings } from './summarize.js';

/** What is known of CPP beside its figures. */
export interface OfCpp {
  readonly lowCpp: LowCpp;
}

/** Computes what stands beside the figures of CPP, from the signals that they were made of. */
export function ofCpp(
  { channels }: Recording,
  { signals }: Pick<RecordingSummary, 'signals'>,
  { cppEpisodes }: SummarizeSettings,
  targets: readonly SetTarget[],
  period: Interval,
): OfCpp {
  const intervalMs = Math.max(
    ...[channels.icp, channels.map].map((channel) => channel?.nominalIntervalMs || 0),
  );
  const inForce = targetsInForce(targets, cppEpisodes.threshold);
  return {
    lowCpp: lowCpp(signals.cpp, inForce, cppEpisodes, intervalMs, period),
  };
}
