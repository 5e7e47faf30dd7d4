import { z } from 'zod';
import { jumpsAndBack } from './level-jump.js';
import { NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';

const COARSEST_SECONDS = 15;

/**
 * The arterial line flushed: MAP up by 40 mmHg or more within 5 s to a plateau of range 10 mmHg or less, back
 * within 3 min. Removed from MAP, so from CPP. Needs samples every 15 s; where they
 * are more than 5 s apart, the step is from one to the next. Common practice, no source.
 */
export const flush = rule({
  name: 'flush',
  title: 'arterial line flushed',
  parameters: z.strictObject({
    jumpMmHg: z.number().positive().default(40),
    withinSeconds: z.number().positive().default(5),
    plateauRangeMmHg: z.number().nonnegative().default(10),
    backWithinSeconds: z.number().positive().default(180),
  }),
  find(recording, { plateauRangeMmHg, ...shape }) {
    const channel = recording.channels.map;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times, values } = channel.signal;
    const isPlateau = (first: number, last: number): boolean => {
      const inside = values.subarray(first, last + 1);
      const highest = inside.reduce((a, b) => Math.max(a, b));
      // Flanks are on the way up or down: the plateau is what stands near the top.
      const top = inside.filter((x) => x >= highest - shape.jumpMmHg / 2);
      return highest - top.reduce((a, b) => Math.min(a, b)) <= plateauRangeMmHg;
    };
    const marks = jumpsAndBack(channel, shape)
      .filter(({ first, last }) => isPlateau(first, last))
      .map(({ first, last }) => ({
        channel: 'map' as const,
        rule: 'flush',
        grade: 'removed' as const,
        start: times[first],
        end: times[last],
      }));
    return { marks, stoodAside: [] };
  },
});
