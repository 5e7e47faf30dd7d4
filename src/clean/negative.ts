import { z } from 'zod';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';

/** At least so much of the samples of a stretch is under 0, as for episodes. */
const LEAST_UNDER = 0.8;

/**
 * ICP under 0 mmHg for 5 min or more; values back over 0 for up to 30 s do not end the stretch, as long as at least
 * 80 % of its samples are under 0. Suspect: check the probe and the zero. Needs samples every 100 s, a third of the time. Common practice, no source.
 */
export const negative = rule({
  name: 'negative',
  title: 'negative ICP',
  parameters: z.strictObject({
    minSeconds: z.number().positive().default(300),
    dipSeconds: z.number().nonnegative().default(30),
  }),
  find(recording, { minSeconds, dipSeconds }) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, minSeconds / 3);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times, values, known } = channel.signal;
    const marks: Mark[] = [];
    let start = -1;
    let last = -1;
    let under = 0;
    const close = (): void => {
      const isLong = start >= 0 && times[last] - times[start] >= minSeconds * 1000;
      if (isLong && under >= LEAST_UNDER * (last - start + 1)) {
        const span = { start: times[start], end: times[last] };
        marks.push({ channel: 'icp', rule: 'negative', grade: 'suspect', direction: 'down', ...span });
      }
      start = -1;
    };
    for (let i = 0; i < values.length; i++) {
      const tooLong = values[i] >= 0 && times[i] - times[last] > dipSeconds * 1000;
      if (start >= 0 && (!known[i - 1] || tooLong)) close();
      if (values[i] >= 0) continue;
      if (start < 0) {
        start = i;
        under = 0;
      }
      last = i;
      under++;
    }
    close();
    return { marks, stoodAside: [] };
  },
});
