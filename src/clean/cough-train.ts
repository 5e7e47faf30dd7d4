import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import { unite } from '../recording/interval.js';
import { type Bump, bumpsOver } from './bumps.js';
import { mapRiseOver } from './evidence.js';
import { medianOver } from './median-over.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { runsWhere } from './runs.js';
import { tooCoarse } from './sampling-limit.js';

const COARSEST_SECONDS = 20;
/** Samples stand over the baseline from this share of the least rise on. */
const ABOVE_SHARE = 1 / 8;

/**
 * A train of coughs, also suctioning: three or more sharp spikes (two where samples are more than 5 s apart) that follow
 * each other for up to 3 min, over a baseline that stays put: the same before and behind. Removed are the spikes and what
 * lies between them above the baseline; where the baseline does not come back, the rise is real and only the spikes go
 * (`briefSpike`). Needs samples every 20 s. Common practice, no source.
 */
export const coughTrain = rule({
  name: 'coughTrain',
  title: 'cough trains',
  parameters: z.strictObject({
    riseMmHg: z.number().positive().default(8),
    spikes: z.number().int().min(2).default(3),
    gapSeconds: z.number().positive().default(25),
    maxSeconds: z.number().positive().default(180),
    sameBaselineMmHg: z.number().positive().default(4),
    baselineSeconds: z.number().positive().default(60),
  }),
  find(recording, parameters) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times, values } = channel.signal;
    const above = trainsIn(channel, parameters).flatMap(({ first, last, baseline }) => {
      const foot = baseline + parameters.riseMmHg * ABOVE_SHARE;
      return runsWhere(last - first + 1, (k) => values[first + k] > foot).map((run) => ({
        start: times[first + run.first],
        end: times[first + run.last],
      }));
    });
    const marks = unite(above).map((span): Mark => {
      const evidence = { mapRiseMmHg: mapRiseOver(recording, span) };
      return { channel: 'icp', rule: 'coughTrain', grade: 'removed', ...span, evidence };
    });
    return { marks, stoodAside: [] };
  },
});

interface TrainShape {
  readonly riseMmHg: number;
  readonly spikes: number;
  readonly gapSeconds: number;
  readonly maxSeconds: number;
  readonly sameBaselineMmHg: number;
  readonly baselineSeconds: number;
}

interface Train {
  readonly first: number;
  readonly last: number;
  readonly baseline: number;
}

/** Neighbouring spikes, as long as no gap is longer than allowed. */
function clusters(times: Float64Array, spikes: readonly Bump[], gapMs: number): Bump[][] {
  const all: Bump[][] = [];
  for (const spike of spikes) {
    const current = all.at(-1);
    const before = current?.at(-1);
    if (current && before && times[spike.first] - times[before.last] <= gapMs) current.push(spike);
    else all.push([spike]);
  }
  return all;
}

const SHARP_SECONDS = 20;

/** Trains of spikes that can be told one from the other, and ragged excursions where samples are too far apart for that. */
const trainsIn = (channel: Channel, shape: TrainShape): Train[] => [
  ...clusteredTrains(channel, shape),
  ...raggedTrains(channel, shape),
];

function clusteredTrains({ signal, nominalIntervalMs }: Channel, shape: TrainShape): Train[] {
  const { times, values, known } = signal;
  // Smaller spikes hold a train together, and no rhythm is asked for: waves go on for longer than a train may.
  const spikes = bumpsOver(
    signal,
    { leastMmHg: shape.riseMmHg / 2, seconds: SHARP_SECONDS },
    nominalIntervalMs,
  );
  return clusters(times, spikes, shape.gapSeconds * 1000).flatMap((cluster): Train[] => {
    const spacingMs =
      (times[cluster[cluster.length - 1].peak] - times[cluster[0].peak]) / (cluster.length - 1);
    if (spacingMs > shape.gapSeconds * 1000) return [];
    if (cluster.filter(({ riseMmHg }) => riseMmHg >= shape.riseMmHg).length < shape.spikes) return [];
    const ms = shape.baselineSeconds * 1000;
    const maxMs = shape.maxSeconds * 1000;
    let [first, last] = [cluster[0].first, cluster[cluster.length - 1].last];
    const outer = Math.max(
      medianOver(signal, times[first] - ms, times[first - 1]),
      medianOver(signal, times[last + 1], times[last] + ms),
    );
    // What lies above the baseline at both ends belongs to the train, as far as it may last.
    const foot = outer + shape.riseMmHg * ABOVE_SHARE;
    while (
      first > 0 &&
      known[first - 1] &&
      values[first - 1] > foot &&
      times[last] - times[first - 1] <= maxMs
    )
      first--;
    while (known[last] && values[last + 1] > foot && times[last + 1] - times[first] <= maxMs) last++;
    if (first === 0 || times[last] - times[first] > maxMs) return [];
    const before = medianOver(signal, times[first] - ms, times[first - 1]);
    const after = medianOver(signal, times[last + 1], times[last] + ms);
    if (!(Math.abs(after - before) <= shape.sameBaselineMmHg)) return [];
    return [{ first, last, baseline: Math.max(before, after) }];
  });
}

/** Where a sample every 5 s or more meets few of the spikes, fewer of them have to show. */
const FINE_MS = 5_000;
const COARSE_SPIKES = 2;

/** Excursions that come back to their baseline, and go up and down on the way as coughs do and pressures do not. */
function raggedTrains(channel: Channel, shape: TrainShape): Train[] {
  const { signal, nominalIntervalMs } = channel;
  const { times, values } = signal;
  const ms = shape.baselineSeconds * 1000;
  const bumps = bumpsOver(
    signal,
    { leastMmHg: shape.riseMmHg, seconds: shape.maxSeconds },
    nominalIntervalMs,
  );
  const fewest = nominalIntervalMs <= FINE_MS ? shape.spikes : COARSE_SPIKES;
  return bumps.flatMap(({ first, last }): Train[] => {
    const before = medianOver(signal, times[first - 1] - ms, times[first - 1]);
    const after = medianOver(signal, times[last + 1], times[last + 1] + ms);
    const peaks = zigzagPeaks(values.subarray(first - 1, last + 2), shape.riseMmHg * RAGGED_SHARE);
    const isTrain = Math.abs(after - before) <= shape.sameBaselineMmHg && peaks >= fewest;
    return isTrain ? [{ first, last, baseline: Math.max(before, after) }] : [];
  });
}

/** Between two spikes of a ragged excursion ICP falls and rises by this share of the least rise. */
const RAGGED_SHARE = 0.75;

/** How often a series turns from a rise of at least so much to a fall of at least so much. */
function zigzagPeaks(values: Float64Array, leastMmHg: number): number {
  let peaks = 0;
  let isRising = false;
  let extreme = values[0];
  for (const value of values) {
    if (isRising ? value > extreme : value < extreme) extreme = value;
    if (Math.abs(value - extreme) < leastMmHg) continue;
    if (isRising) peaks++;
    isRising = !isRising;
    extreme = value;
  }
  return peaks;
}
