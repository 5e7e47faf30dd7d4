import { z } from 'zod';
import { mapRiseOver } from './evidence.js';
import { MIN_UNDER_MAX } from './ordered.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';
import { trapezoids } from './spikes.js';

const COARSEST_SECONDS = 20;

/**
 * Slow turning: ICP goes up by 12 mmHg or more at once, stands there for 30 to 90 s and falls back at once to the level
 * that it left. What takes longer, rises or falls over more than 20 s, or leaves another level behind, stays. Removed.
 * Needs samples every 20 s. Common practice, no source.
 */
export const slowTurn = rule({
  name: 'slowTurn',
  title: 'slow turns (30 to 90 s)',
  parameters: z
    .strictObject({
      riseMmHg: z.number().positive().default(12),
      minSeconds: z.number().nonnegative().default(30),
      maxSeconds: z.number().positive().max(600).default(90),
      baselineSeconds: z.number().positive().default(120),
      rhythm: z.number().min(0).max(1).default(0.5),
    })
    .refine(({ minSeconds, maxSeconds }) => minSeconds < maxSeconds, MIN_UNDER_MAX),
  find(recording, parameters) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times } = channel.signal;
    const { minSeconds, ...shape } = parameters;
    const marks = trapezoids(channel, { ...shape, sharpSeconds: shape.maxSeconds })
      .map(({ first, last }) => ({ start: times[first], end: times[last] }))
      .filter(({ start, end }) => end - start >= minSeconds * 1000)
      .map((span): Mark => {
        const evidence = { mapRiseMmHg: mapRiseOver(recording, span) };
        return { channel: 'icp', rule: 'slowTurn', grade: 'removed', ...span, evidence };
      });
    return { marks, stoodAside: [] };
  },
});
