import { z } from 'zod';
import type { Signal } from '../recording/signal.js';
import { ceilingOf, floorOf } from './ceiling.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { type Run, runsWhere } from './runs.js';

/**
 * ICP held at the highest or lowest value that the channel can show: the true pressure lies beyond it. Suspect: at the
 * ceiling the pressure is high, so it stays in, and burden is at least what is shown; at the floor it is left out.
 * Works at any sampling that gives enough repeats. Common practice, no source.
 */
export const clipped = rule({
  name: 'clipped',
  title: 'held at the end of the scale',
  parameters: z.strictObject({
    minSeconds: z.number().nonnegative().default(10),
    /** Shorter returns from the end of the scale do not part a stretch. */
    gapSeconds: z.number().nonnegative().default(10),
  }),
  find(recording, parameters) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const { signal } = channel;
    const at = (limit: number | null, direction: 'up' | 'down'): Mark[] =>
      limit === null
        ? []
        : stretchesAt(signal, limit, parameters).map(({ first, last }): Mark => {
            const span = { start: signal.times[first], end: signal.times[last] };
            return { channel: 'icp', rule: 'clipped', grade: 'suspect', direction, ...span };
          });
    return { marks: [...at(ceilingOf(signal), 'up'), ...at(floorOf(signal), 'down')], stoodAside: [] };
  },
});

function stretchesAt(
  { times, values, known }: Signal,
  limit: number,
  { minSeconds, gapSeconds }: { minSeconds: number; gapSeconds: number },
): Run[] {
  const stretches: { first: number; last: number }[] = [];
  for (const run of runsWhere(values.length, (i) => values[i] === limit)) {
    const before = stretches.at(-1);
    const isNear = before && times[run.first] - times[before.last] <= gapSeconds * 1000;
    if (before && isNear && known.subarray(before.last, run.first).every(Boolean)) before.last = run.last;
    else stretches.push({ ...run });
  }
  return stretches.filter(({ first, last }) => times[last] - times[first] >= minSeconds * 1000);
}
