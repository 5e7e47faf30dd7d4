import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import { ceilingOf } from './ceiling.js';
import { type EqualRun, equalRuns } from './equal-runs.js';
import { type Mark, rule } from './rule.js';

const KINDS = ['icp', 'icpDrain', 'map'] as const;

/**
 * A frozen channel: the same value for 5 min or more where chance would give so many repeats less than once in a
 * million, (1 - c)^k < 1e-6 with c the share of neighbouring values that differ elsewhere in the channel and k the
 * repeats; a channel that hardly ever changes is taken to change in one of ten. A channel held at its ceiling is
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

/** ICP in whole mmHg at 1 Hz changes about so often in a quiet patient. Common practice, no source. */
const USUAL_CHANGE_SHARE = 0.1;

const chanceOf = ({ hasLived, chanceOfRepeats, first, last }: EqualRun): number =>
  hasLived ? chanceOfRepeats : (1 - USUAL_CHANGE_SHARE) ** (last - first);

function frozen(channel: Channel, { minSeconds, chance }: { minSeconds: number; chance: number }): Mark[] {
  const { times, values } = channel.signal;
  const ceiling = channel.kind === 'map' ? null : ceilingOf(channel.signal);
  return equalRuns(channel.signal)
    .filter((run) => {
      const { first, last } = run;
      const isLong = times[last] - times[first] >= minSeconds * 1000;
      return isLong && chanceOf(run) < chance && values[first] !== ceiling;
    })
    .map(({ first, last }) => {
      const span = { start: times[first], end: times[last] };
      return { channel: channel.kind, rule: 'flatline', grade: 'removed', ...span };
    });
}
