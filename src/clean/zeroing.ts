import { z } from 'zod';
import { type Mark, NOTHING, rule } from './rule.js';
import { runsWhere } from './runs.js';
import { tooCoarse } from './sampling-limit.js';

/**
 * The transducer opened to air: ICP within 1 mmHg of 0, entered and left by a step of 4 mmHg or more within 5 s,
 * for 5 s to 10 min. Removed, the flanks of both steps included. Needs samples every 5 s. Common practice, no source.
 */
export const zeroing = rule({
  name: 'zeroing',
  title: 'zeroing',
  parameters: z.strictObject({
    nearZeroMmHg: z.number().positive().default(1),
    stepMmHg: z.number().positive().default(4),
    stepSeconds: z.number().positive().default(5),
    minSeconds: z.number().nonnegative().default(5),
    maxSeconds: z.number().positive().default(600),
  }),
  find(recording, { nearZeroMmHg, stepMmHg, stepSeconds, minSeconds, maxSeconds }) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, stepSeconds);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times, values } = channel.signal;
    /** The nearest sample a step away from `edge`, looking in one direction; -1 where there is none in time. */
    const beyondStep = (edge: number, direction: 1 | -1): number => {
      for (let i = edge + direction; i >= 0 && i < times.length; i += direction) {
        if (Math.abs(times[i] - times[edge]) > stepSeconds * 1000) return -1;
        if (Math.abs(values[i] - values[edge]) >= stepMmHg) return i;
      }
      return -1;
    };
    const marks: Mark[] = [];
    for (const { first, last } of runsWhere(values.length, (i) => Math.abs(values[i]) <= nearZeroMmHg)) {
      const seconds = (times[last] - times[first]) / 1000;
      if (seconds < minSeconds || seconds > maxSeconds) continue;
      const before = beyondStep(first, -1);
      const after = beyondStep(last, 1);
      if (before < 0 || after < 0) continue;
      marks.push({
        channel: 'icp',
        rule: 'zeroing',
        grade: 'removed',
        start: times[before + 1],
        end: times[after - 1],
      });
    }
    return { marks, stoodAside: [] };
  },
});
