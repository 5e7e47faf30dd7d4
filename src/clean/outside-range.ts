import { z } from 'zod';
import type { ChannelKind } from '../recording/channel.js';
import { unite } from '../recording/interval.js';
import type { WaveKind } from '../recording/waveform.js';
import { HIGHEST_ICP_MMHG, LOWEST_ICP_MMHG } from './measuring-range.js';
import { type Mark, rule } from './rule.js';
import { runsWhere } from './runs.js';
import { waveformMarks } from './waveform-marks.js';

/**
 * Values that no transducer means: ICP under -20 or over 150 mmHg, arterial pressures under 0 or over 300 mmHg.
 * Removed; of a waveform each second that holds such a sample. Works at any sampling. Common practice, no source.
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
    const seen = waveformMarks(recording, 'outsideRange', 'removed');
    const marks: Mark[] = [];
    for (const channel of Object.values(recording.channels)) {
      const range = limits(channel.kind, parameters);
      if (!range) continue;
      const [lowest, highest] = range;
      const { times, values } = channel.signal;
      const outside = runsWhere(values.length, (i) => values[i] < lowest || values[i] > highest).map(
        ({ first, last }) => ({ start: times[first], end: times[last] }),
      );
      // A mean lies outside where samples do, so what was seen in a waveform and in its means is one.
      const inSamples = seen.filter((mark) => mark.channel === channel.kind);
      const stretches = inSamples.length === 0 ? outside : unite([...outside, ...inSamples]);
      for (const stretch of stretches) {
        marks.push({ channel: channel.kind, rule: 'outsideRange', grade: 'removed', ...stretch });
      }
    }
    return { marks, stoodAside: [] };
  },
  watch({ kind }, parameters, tell) {
    const [lowest, highest] = limits(kind, parameters) ?? NO_LIMITS;
    return {
      take(times, values, count) {
        for (let i = 0; i < count; i++) {
          if (values[i] < lowest || values[i] > highest) tell({ from: times[i], to: times[i] });
        }
      },
      part() {},
      finish() {},
    };
  },
});

const NO_LIMITS = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY] as const;

/** The range that samples of a waveform can have, in mmHg, where nothing else is said. */
export const samplesRange = (kind: WaveKind): readonly [number, number] =>
  limits(kind, outsideRange.parameters.parse({})) ?? NO_LIMITS;

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
