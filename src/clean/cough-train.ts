import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import type { Bump } from './bumps.js';
import { mapRiseOver } from './evidence.js';
import { medianOver } from './median-over.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { runsWhere } from './runs.js';
import { tooCoarse } from './sampling-limit.js';
import { sharpSpikes } from './spikes.js';

const COARSEST_SECONDS = 20;
/** Samples stand over the baseline from this share of the least rise on. */
const ABOVE_SHARE = 1 / 4;

/**
 * A train of coughs, also suctioning: three or more sharp spikes that follow each other for up to 3 min, over a baseline
 * that stays put: the same before and behind. Removed are the spikes and what lies between them above the baseline; where the baseline does not come
 * back, the rise is real and only the spikes go (`briefSpike`). Needs samples every 20 s. Common practice, no source.
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
    const marks = trainsIn(channel, parameters).flatMap(({ first, last, baseline }) => {
      const evidence = { mapRiseMmHg: mapRiseOver(recording, { start: times[first], end: times[last] }) };
      const foot = baseline + parameters.riseMmHg * ABOVE_SHARE;
      return runsWhere(last - first + 1, (k) => values[first + k] > foot).map((run): Mark => {
        const span = { start: times[first + run.first], end: times[first + run.last] };
        return { channel: 'icp', rule: 'coughTrain', grade: 'removed', ...span, evidence };
      });
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

function trainsIn({ signal, nominalIntervalMs, ...rest }: Channel, shape: TrainShape): Train[] {
  const { times, values, known } = signal;
  const sharp = {
    riseMmHg: shape.riseMmHg,
    sharpSeconds: 20,
    maxSeconds: 20,
    baselineSeconds: 120,
    rhythm: 0.5,
  };
  const spikes = sharpSpikes({ signal, nominalIntervalMs, ...rest }, sharp);
  return clusters(times, spikes, shape.gapSeconds * 1000).flatMap((cluster): Train[] => {
    if (cluster.length < shape.spikes) return [];
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
