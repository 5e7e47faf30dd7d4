import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import { ceilingOf } from './ceiling.js';
import { frozenRuns } from './frozen-runs.js';
import { type Mark, rule } from './rule.js';

const KINDS = ['icp', 'icpDrain', 'map'] as const;

/**
 * A frozen channel: the same value for 5 min or more where chance would give so many repeats less than once in a
 * million, (1 - c)^k < 1e-6 with c the share of neighbouring values that differ elsewhere in the channel and k the
 * repeats; a channel that hardly ever changes is taken to change in one of ten. Where samples are close enough the same
 * has to hold for minutes without a change, since a slow wander in whole numbers keeps its value for minutes. A channel held at its ceiling is
 * `clipped`, not frozen. Removed. Works at any sampling that gives enough repeats. Common practice, no source.
 */
export const flatline = rule({
  name: 'flatline',
  title: 'flat line (frozen value)',
  parameters: z.strictObject({
    minSeconds: z.number().positive().default(300),
    chance: z.number().positive().max(1).default(1e-6),
  }),
  find(recording, parameters) {
    const marks = KINDS.flatMap((kind) => {
      const channel = recording.channels[kind];
      return channel ? frozen(channel, parameters) : [];
    });
    return { marks, stoodAside: [] };
  },
});

function frozen(channel: Channel, { minSeconds, chance }: { minSeconds: number; chance: number }): Mark[] {
  const { times, values } = channel.signal;
  const ceiling = channel.kind === 'map' ? null : ceilingOf(channel.signal);
  return frozenRuns(channel.signal, { minMs: minSeconds * 1000, chance })
    .filter(({ first }) => values[first] !== ceiling)
    .map(({ first, last }) => {
      const span = { start: times[first], end: times[last] };
      return { channel: channel.kind, rule: 'flatline', grade: 'removed', ...span };
    });
}
