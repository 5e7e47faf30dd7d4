import type { Channel } from '../recording/channel.js';
import type { Run } from './runs.js';

/** From one sample to the next, a little late at times. */
export const ONE_SAMPLE = 1.2;

/** How a channel jumps to another level for a while and comes back. */
export interface JumpShape {
  /** Size of the jump, mmHg; positive for up, negative for down. */
  readonly jumpMmHg: number;
  /** Longest time for the jump, seconds. */
  readonly withinSeconds: number;
  /** Longest time away from the old level, seconds. */
  readonly backWithinSeconds: number;
}

/**
 * Stretches in which a signal leaves its level by the jump and is back within the time.
 *
 * @returns runs of samples beyond half of the jump, with the level they left; the flanks belong to the run
 */
export function jumpsAndBack(
  { signal: { times, values }, nominalIntervalMs }: Channel,
  { jumpMmHg, withinSeconds, backWithinSeconds }: JumpShape,
): Run[] {
  const withinMs = Math.max(withinSeconds * 1000, ONE_SAMPLE * nominalIntervalMs);
  const sign = Math.sign(jumpMmHg);
  const size = Math.abs(jumpMmHg);
  const runs: Run[] = [];
  for (let i = 0; i + 1 < times.length; i++) {
    let arrived = i + 1;
    while (
      arrived < times.length &&
      times[arrived] - times[i] <= withinMs &&
      sign * (values[arrived] - values[i]) < size
    ) {
      arrived++;
    }
    if (arrived >= times.length || times[arrived] - times[i] > withinMs) continue;
    let back = arrived + 1;
    while (
      back < times.length &&
      times[back] - times[i] <= backWithinSeconds * 1000 &&
      sign * (values[back] - values[i]) > size / 2
    ) {
      back++;
    }
    if (back >= times.length || times[back] - times[i] > backWithinSeconds * 1000) continue;
    // The jump is looked for over some seconds; samples that still lie on the old level do not belong to it.
    let left = i + 1;
    while (left < arrived && sign * (values[left] - values[i]) < size / 4) left++;
    runs.push({ first: left, last: back - 1 });
    i = back - 1;
  }
  return runs;
}
