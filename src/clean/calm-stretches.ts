import type { Channel } from '../recording/channel.js';
import { CHANNEL_NAMES } from '../recording/channel.js';
import type { Interval } from '../recording/interval.js';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { blockScatter } from './block-scatter.js';
import { tooCoarse } from './sampling-limit.js';

/** A block is a minute, or what holds so many samples. */
const BLOCK_MS = 60_000;
const BLOCK_SAMPLES = 5;
/** One block of the other sort in so many does not end a stretch: a cough comes through a kinked line too. */
const BLOCKS_PER_EXCEPTION = 5;
const MOST_EXCEPTIONS_IN_A_ROW = 2;
/** Lively is not only more than calm: at whole mmHg a calm level between two steps flickers. */
const LIVELY_SHARE = 0.7;
/** Scatter under this share of a step of the monitor cannot be seen shrinking. */
const LEAST_STEPS = 0.5;

/** What counts as calm: scatter under this share of the usual one. */
export interface Calmness {
  readonly share: number;
  readonly coarsestSeconds: number;
  readonly calmSeconds: number;
  readonly livelySeconds: number;
  /** Stretches that do not count for what is usual. */
  readonly unusual?: readonly Interval[];
}

export interface CalmAndLively {
  readonly calm: readonly Interval[];
  readonly lively: readonly Interval[];
}

/**
 * Where the scatter from sample to sample is far smaller than usual, and where it is not, in stretches of one-minute
 * blocks, or of five samples where these are rarer. A sentence where the channel cannot show it: samples too far apart,
 * or scatter under half of a step of the monitor.
 */
export function calmAndLively(channel: Channel, calmness: Calmness): CalmAndLively | string {
  const { kind, signal, decimals } = channel;
  const { share, coarsestSeconds, calmSeconds, livelySeconds, unusual = [] } = calmness;
  if (channel.signal.times.length <= BLOCK_SAMPLES) return { calm: [], lively: [] };
  const coarse = tooCoarse(channel, coarsestSeconds);
  if (coarse) return coarse;
  const blockMs = Math.max(BLOCK_MS, Math.round(BLOCK_SAMPLES * channel.nominalIntervalMs));
  const isUsual = (_: number, i: number): boolean =>
    !unusual.some(({ start, end }) => rough.starts[i] >= start - blockMs && rough.starts[i] <= end);
  const rough = blockScatter(signal, blockMs, Number.POSITIVE_INFINITY);
  const reference = rough.scatterMmHg.filter(isUsual);
  if (reference.length === 0) return { calm: [], lively: [] };
  const { starts, scatterMmHg } = blockScatter(signal, blockMs, median(reference));
  const usual = median(scatterMmHg.filter(isUsual));
  if (usual < LEAST_STEPS * 10 ** -decimals) {
    return `${CHANNEL_NAMES[kind]} hardly changes from sample to sample in steps of the monitor; a loss of scatter would not show`;
  }
  const stretches = (is: (scatter: number) => boolean, leastSeconds: number): Interval[] =>
    [...runsOf(starts, blockMs, (i) => is(scatterMmHg[i]))]
      .map(([first, last]) => spanOf(signal, starts[first], starts[last] + blockMs - 1))
      .filter(({ start, end }) => end - start >= leastSeconds * 1000);
  return {
    calm: stretches((scatter) => scatter < share * usual, calmSeconds),
    lively: stretches((scatter) => scatter >= LIVELY_SHARE * usual, livelySeconds),
  };
}

/** From the first sample to the last of a stretch of time. */
const spanOf = ({ times }: Signal, from: number, to: number): Interval => ({
  start: times[firstAtOrAfter(times, from)],
  end: times[firstAfter(times, to) - 1],
});

/** Runs of blocks that are so, next to each other in time, with few exceptions inside. */
function* runsOf(
  starts: Float64Array,
  blockMs: number,
  isSo: (block: number) => boolean,
): Generator<readonly [first: number, last: number]> {
  for (let first = 0; first < starts.length; first++) {
    if (!isSo(first)) continue;
    let last = first;
    let exceptions = 0;
    for (let i = first + 1; i < starts.length; i++) {
      if (starts[i] - starts[i - 1] > blockMs) break;
      if (isSo(i)) last = i;
      else if (++exceptions * BLOCKS_PER_EXCEPTION > i - first + 1 || i - last > MOST_EXCEPTIONS_IN_A_ROW)
        break;
    }
    yield [first, last];
    first = last;
  }
}
