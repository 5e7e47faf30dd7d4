import type { Channel } from '../recording/channel.js';
import { ONE_SAMPLE } from './level-jump.js';
import { type Run, runsWhere } from './runs.js';

/** How a transducer looks while it is open to air. */
export interface NearZeroShape {
  readonly nearZeroMmHg: number;
  readonly stepMmHg: number;
  readonly stepSeconds: number;
  readonly minSeconds: number;
  readonly maxSeconds: number;
}

/** Stretches near 0 that are entered and left by a step; the flanks of both steps belong to the run. */
export function nearZeroRuns(
  { signal: { times, values }, nominalIntervalMs }: Channel,
  shape: NearZeroShape,
): Run[] {
  const { nearZeroMmHg, stepMmHg, stepSeconds, minSeconds, maxSeconds } = shape;
  const stepMs = Math.max(stepSeconds * 1000, ONE_SAMPLE * nominalIntervalMs);
  /** The nearest sample a step away from `edge`, looking in one direction; -1 where there is none in time. */
  const beyondStep = (edge: number, direction: 1 | -1): number => {
    for (let i = edge + direction; i >= 0 && i < times.length; i += direction) {
      if (Math.abs(times[i] - times[edge]) > stepMs) return -1;
      if (Math.abs(values[i] - values[edge]) >= stepMmHg) return i;
    }
    return -1;
  };
  const runs: Run[] = [];
  for (const { first, last } of runsWhere(values.length, (i) => Math.abs(values[i]) <= nearZeroMmHg)) {
    const seconds = (times[last] - times[first]) / 1000;
    if (seconds < minSeconds || seconds > maxSeconds) continue;
    const before = beyondStep(first, -1);
    const after = beyondStep(last, 1);
    if (before >= 0 && after >= 0) runs.push({ first: before + 1, last: after - 1 });
  }
  return runs;
}
