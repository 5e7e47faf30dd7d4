import { z } from 'zod';
import { mapRiseOver } from './evidence.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';
import { sharpSpikes, slowerSpikes } from './spikes.js';

const COARSEST_SECONDS = 20;
const COARSE_MS = 10_000;

/**
 * Coughing, straining, turning: ICP rises by 8 mmHg or more over its baseline and is back within 60 s. The baseline of
 * a sharp spike (20 s at most) is the level that ICP keeps around it, so that spikes on a high or ebbing pressure go
 * and the pressure stays; a slower one has to end at a level that settles. Rhythmic excursions stay. Removed. Needs
 * samples every 20 s; from 10 s on a rise of 5 mmHg is enough. Common practice, no source: such a rise can reach 30 mmHg or so and falls back at once.
 */
export const briefSpike = rule({
  name: 'briefSpike',
  title: 'brief spikes (cough, strain, turn)',
  parameters: z.strictObject({
    riseMmHg: z.number().positive().default(8),
    maxSeconds: z.number().positive().max(180).default(60),
    sharpSeconds: z.number().positive().default(20),
    baselineSeconds: z.number().positive().default(120),
    /** Samples more than 10 s apart seldom meet the top of a spike: so much of its rise is enough there. */
    coarseRiseMmHg: z.number().positive().default(5),
    rhythm: z.number().min(0).max(1).default(0.5),
  }),
  find(recording, { coarseRiseMmHg, ...fine }) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times } = channel.signal;
    const isCoarse = channel.nominalIntervalMs > COARSE_MS;
    const shape = isCoarse ? { ...fine, riseMmHg: Math.min(coarseRiseMmHg, fine.riseMmHg) } : fine;
    const sharp = sharpSpikes(channel, shape);
    const marks = [...sharp, ...slowerSpikes(channel, shape, sharp)].map(({ first, last }): Mark => {
      const span = { start: times[first], end: times[last] };
      const evidence = { mapRiseMmHg: mapRiseOver(recording, span) };
      return { channel: 'icp', rule: 'briefSpike', grade: 'removed', ...span, evidence };
    });
    return { marks, stoodAside: [] };
  },
});
