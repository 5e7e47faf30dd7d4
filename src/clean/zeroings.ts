import type { Channel } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import { nearZeroRuns } from './near-zero.js';
import { zeroingParameters } from './zeroing.js';

/** Zeroings that follow each other this closely are one: a first try, and the one that held. */
const ONE_MS = 180_000;

/** The times over which the shape of a channel shows that it was zeroed. */
export function zeroingsIn(channel: Channel): Interval[] {
  const { times } = channel.signal;
  const all: { start: number; end: number }[] = [];
  for (const { first, last } of nearZeroRuns(channel, zeroingParameters.parse({}))) {
    const before = all.at(-1);
    if (before && times[first] - before.end <= ONE_MS) before.end = times[last];
    else all.push({ start: times[first], end: times[last] });
  }
  return all;
}
