import { z } from 'zod';
import { nearZeroRuns } from './near-zero.js';
import { MIN_UNDER_MAX } from './ordered.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';

const COARSEST_SECONDS = 15;

/** How a zeroing looks, as the pipeline file says it. */
export const zeroingParameters = z
  .strictObject({
    nearZeroMmHg: z.number().positive().max(5).default(1),
    stepMmHg: z.number().positive().default(4),
    stepSeconds: z.number().positive().default(5),
    minSeconds: z.number().nonnegative().default(5),
    maxSeconds: z.number().positive().default(600),
  })
  .refine(({ minSeconds, maxSeconds }) => minSeconds < maxSeconds, MIN_UNDER_MAX);

/**
 * The transducer opened to air: ICP within 1 mmHg of 0, entered and left by a step of 4 mmHg or more within 5 s,
 * for 5 s to 10 min. Removed, the flanks of both steps included. Needs samples every 15 s; where they
 * are more than 5 s apart, the step is from one to the next. Common practice, no source.
 */
export const zeroing = rule({
  name: 'zeroing',
  title: 'zeroing',
  parameters: zeroingParameters,
  find(recording, shape) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times } = channel.signal;
    const marks = nearZeroRuns(channel, shape).map(
      ({ first, last }): Mark => ({
        channel: 'icp',
        rule: 'zeroing',
        grade: 'removed',
        start: times[first],
        end: times[last],
      }),
    );
    return { marks, stoodAside: [] };
  },
});
