import { z } from 'zod';
import { CHANNEL_NAMES, type Channel } from '../recording/channel.js';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import { blockScatter } from './block-scatter.js';
import { ceilingOf, floorOf } from './ceiling.js';
import { medianOver } from './median-over.js';
import { type Mark, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';

const COARSEST_SECONDS = 15;
const BLOCK_MS = 60_000;
/** One livelier block in so many does not end a stretch: a cough comes through a kinked line too. */
const BLOCKS_PER_EXCEPTION = 5;
/** Scatter under this share of a step of the monitor cannot be seen shrinking. */
const LEAST_STEPS = 0.5;
/** Lower than before by more than this: the reading has left the patient downward. */
const LOWER_MMHG = 4;
const LEVEL_MS = 10 * 60_000;

/**
 * A damped channel: a pressure stands there, but its scatter from sample to sample falls under 0.4 of its usual size
 * for 10 min or more (kinked or clotted line, probe out of place, a drain that is open). Suspect; it stays in where the level is about that
 * before, and is left out where it is lower. Needs samples every 15 s, and scatter of half of the monitor's step or
 * more. Common practice, no source.
 */
export const damped = rule({
  name: 'damped',
  title: 'damped (scatter lost)',
  parameters: z.strictObject({
    share: z.number().positive().max(1).default(0.4),
    minSeconds: z.number().positive().default(600),
  }),
  find(recording, parameters) {
    const marks: Mark[] = [];
    const stoodAside: string[] = [];
    for (const kind of ['icp', 'icpDrain'] as const) {
      const channel = recording.channels[kind];
      if (!channel) continue;
      const found = tooCoarse(channel, COARSEST_SECONDS) ?? dampedIn(channel, parameters);
      if (typeof found === 'string') stoodAside.push(found);
      else marks.push(...found);
    }
    return { marks, stoodAside };
  },
});

function dampedIn(
  { kind, signal, decimals }: Channel,
  { share, minSeconds }: { share: number; minSeconds: number },
): Mark[] | string {
  const { times } = signal;
  const rough = blockScatter(signal, BLOCK_MS, Number.POSITIVE_INFINITY);
  if (rough.starts.length === 0) return [];
  const { starts, scatterMmHg } = blockScatter(signal, BLOCK_MS, median(rough.scatterMmHg));
  const usual = median(scatterMmHg);
  if (usual < LEAST_STEPS * 10 ** -decimals) {
    return `${CHANNEL_NAMES[kind]} hardly changes from sample to sample in steps of the monitor; a loss of scatter would not show`;
  }
  const marks: Mark[] = [];
  for (const { first, last } of calmRuns(starts, scatterMmHg, share * usual)) {
    const from = firstAtOrAfter(times, starts[first]);
    const to = firstAfter(times, starts[last] + BLOCK_MS - 1) - 1;
    if (times[to] - times[from] < minSeconds * 1000) continue;
    const before = medianOver(signal, times[from] - LEVEL_MS, times[from] - 1);
    const inside = medianOver(signal, times[from], times[to]);
    // At the end of the scale nothing scatters; `clipped` says so.
    if (inside === ceilingOf(signal) || inside === floorOf(signal)) continue;
    const direction = before - inside > LOWER_MMHG ? 'down' : 'up';
    marks.push({
      channel: kind,
      rule: 'damped',
      grade: 'suspect',
      direction,
      start: times[from],
      end: times[to],
    });
  }
  return marks;
}

/** Runs of blocks under the limit, next to each other in time, with few exceptions inside. */
function* calmRuns(
  starts: Float64Array,
  scatter: Float64Array,
  limit: number,
): Generator<{ first: number; last: number }> {
  for (let first = 0; first < starts.length; first++) {
    if (scatter[first] >= limit) continue;
    let last = first;
    let exceptions = 0;
    for (let i = first + 1; i < starts.length; i++) {
      if (starts[i] - starts[i - 1] > BLOCK_MS) break;
      if (scatter[i] < limit) last = i;
      else if (++exceptions * BLOCKS_PER_EXCEPTION > i - first + 1) break;
    }
    yield { first, last };
    first = last;
  }
}
