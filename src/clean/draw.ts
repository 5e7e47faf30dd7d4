import { z } from 'zod';
import type { Recording } from '../recording/recording.js';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import { jumpsAndBack } from './level-jump.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';

const COARSEST_SECONDS = 15;

/**
 * Blood drawn from the arterial line: MAP down by 40 mmHg or more within 5 s with a pulse pressure under 10 mmHg,
 * back within 3 min. Removed; without systolic and diastolic pressures suspect, since it may be the patient.
 * Needs samples every 15 s; where they
 * are more than 5 s apart, the step is from one to the next. Common practice, no source.
 */
export const draw = rule({
  name: 'draw',
  title: 'blood drawn from the arterial line',
  parameters: z.strictObject({
    jumpMmHg: z.number().positive().default(40),
    withinSeconds: z.number().positive().default(5),
    pulsePressureMmHg: z.number().positive().default(10),
    backWithinSeconds: z.number().positive().default(180),
  }),
  find(recording, { jumpMmHg, withinSeconds, pulsePressureMmHg, backWithinSeconds }) {
    const channel = recording.channels.map;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, COARSEST_SECONDS);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { times } = channel.signal;
    const drops = jumpsAndBack(channel, { jumpMmHg: -jumpMmHg, withinSeconds, backWithinSeconds });
    const marks = drops.flatMap(({ first, last }): Mark[] => {
      const pulse = pulsePressure(recording, times[first], times[last]);
      if (pulse !== null && pulse >= pulsePressureMmHg) return [];
      const span = { channel: 'map', rule: 'draw', start: times[first], end: times[last] } as const;
      return pulse === null
        ? [{ ...span, grade: 'suspect', direction: 'down' }]
        : [{ ...span, grade: 'removed' }];
    });
    return { marks, stoodAside: [] };
  },
});

/** Median systolic minus median diastolic pressure over a stretch, mmHg; null where either has no sample there. */
function pulsePressure({ channels }: Recording, start: number, end: number): number | null {
  const medians = (['sbp', 'dbp'] as const).map((kind) => {
    const signal = channels[kind]?.signal;
    const from = signal ? firstAtOrAfter(signal.times, start) : 0;
    const to = signal ? firstAfter(signal.times, end) : 0;
    return signal && to > from ? median(signal.values.subarray(from, to)) : null;
  });
  const [systolic, diastolic] = medians;
  return systolic === null || diastolic === null ? null : systolic - diastolic;
}
