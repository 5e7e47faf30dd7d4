import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import { calmAndLively } from './calm-stretches.js';
import { ceilingOf, floorOf } from './ceiling.js';
import { medianOver } from './median-over.js';
import { type Mark, rule } from './rule.js';

const COARSEST_SECONDS = 15;
/** Lower than before by more than this: the reading has left the patient downward. */
const LOWER_MMHG = 4;
const LEVEL_MS = 10 * 60_000;

/**
 * A damped channel: a pressure stands there, but its scatter from sample to sample falls under 0.4 of its usual size
 * for 10 min or more (kinked or clotted line, probe out of place, a drain that is open). Suspect; it stays in where the
 * level is about that before, and is left out where it is lower. Needs samples every 15 s, and scatter of half of the
 * monitor's step or more. Common practice, no source.
 */
export const damped = rule({
  name: 'damped',
  title: 'damped (scatter lost)',
  parameters: z.strictObject({
    share: z.number().positive().max(1).default(0.4),
    minSeconds: z.number().positive().default(600),
  }),
  find(recording, parameters) {
    const marks: Mark[] = [];
    const stoodAside: string[] = [];
    for (const kind of ['icp', 'icpDrain'] as const) {
      const channel = recording.channels[kind];
      if (!channel) continue;
      const found = dampedIn(channel, parameters);
      if (typeof found === 'string') stoodAside.push(found);
      else marks.push(...found);
    }
    return { marks, stoodAside };
  },
});

function dampedIn(
  channel: Channel,
  { share, minSeconds }: { share: number; minSeconds: number },
): Mark[] | string {
  const { kind, signal } = channel;
  const found = calmAndLively(channel, {
    share,
    coarsestSeconds: COARSEST_SECONDS,
    calmSeconds: minSeconds,
    livelySeconds: minSeconds,
  });
  if (typeof found === 'string') return found;
  return found.calm.flatMap(({ start, end }): Mark[] => {
    const before = medianOver(signal, start - LEVEL_MS, start - 1);
    const inside = medianOver(signal, start, end);
    // At the end of the scale nothing scatters; `clipped` says so.
    if (inside === ceilingOf(signal) || inside === floorOf(signal)) return [];
    const direction = before - inside > LOWER_MMHG ? 'down' : 'up';
    return [{ channel: kind, rule: 'damped', grade: 'suspect', direction, start, end }];
  });
}
