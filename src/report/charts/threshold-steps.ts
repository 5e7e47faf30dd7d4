import type { Interval } from '../../recording/interval.js';
import type { ThresholdStep } from './panel.js';

/** A target over a stretch of time, ends in milliseconds UTC. */
export interface TargetSpan extends Interval {
  readonly belowMmHg: number;
}

/** Targets as a dashed line in steps over a window; each is cut to it. */
export const thresholdSteps = (targets: readonly TargetSpan[], window: Interval): ThresholdStep[] =>
  targets.flatMap(({ start, end, belowMmHg }) => {
    const minutes = (at: number): number =>
      (Math.min(window.end, Math.max(window.start, at)) - window.start) / 60_000;
    const [from, to] = [minutes(start), minutes(end)];
    return to > from ? [{ from, to, y: belowMmHg }] : [];
  });
