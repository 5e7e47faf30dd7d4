import { z } from 'zod';
import type { ChannelKind } from '../recording/channel.js';
import { HIGHEST_ICP_MMHG, LOWEST_ICP_MMHG } from './measuring-range.js';
import { type Mark, rule } from './rule.js';
import { runsWhere } from './runs.js';

/**
 * Values that no transducer means: ICP under -20 or over 150 mmHg, arterial pressures under 0 or over 300 mmHg.
 * Removed. Works at any sampling. Common practice, no source.
 */
export const outsideRange = rule({
  name: 'outsideRange',
  title: 'outside the measuring range',
  parameters: z
    .strictObject({
      icpLowestMmHg: z.number().default(LOWEST_ICP_MMHG),
      icpHighestMmHg: z.number().default(HIGHEST_ICP_MMHG),
      abpLowestMmHg: z.number().default(0),
      abpHighestMmHg: z.number().default(300),
    })
    .refine(({ icpLowestMmHg, icpHighestMmHg }) => icpLowestMmHg < icpHighestMmHg, {
      error: 'expected icpLowestMmHg to be less than icpHighestMmHg; every value would be removed',
      path: ['icpLowestMmHg'],
    })
    .refine(({ abpLowestMmHg, abpHighestMmHg }) => abpLowestMmHg < abpHighestMmHg, {
      error: 'expected abpLowestMmHg to be less than abpHighestMmHg; every value would be removed',
      path: ['abpLowestMmHg'],
    }),
  find(recording, parameters) {
    const marks: Mark[] = [];
    for (const channel of Object.values(recording.channels)) {
      const range = limits(channel.kind, parameters);
      if (!range) continue;
      const [lowest, highest] = range;
      const { times, values } = channel.signal;
      const outside = runsWhere(values.length, (i) => values[i] < lowest || values[i] > highest);
      for (const { first, last } of outside) {
        marks.push({
          channel: channel.kind,
          rule: 'outsideRange',
          grade: 'removed',
          start: times[first],
          end: times[last],
        });
      }
    }
    return { marks, stoodAside: [] };
  },
});

const ICP: readonly ChannelKind[] = ['icp', 'icpDrain'];
const ARTERIAL: readonly ChannelKind[] = ['map', 'sbp', 'dbp'];

/** Null for channels that no figure rests on. */
function limits(
  kind: ChannelKind,
  p: { icpLowestMmHg: number; icpHighestMmHg: number; abpLowestMmHg: number; abpHighestMmHg: number },
): [number, number] | null {
  if (ICP.includes(kind)) return [p.icpLowestMmHg, p.icpHighestMmHg];
  return ARTERIAL.includes(kind) ? [p.abpLowestMmHg, p.abpHighestMmHg] : null;
}
