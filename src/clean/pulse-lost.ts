import { z } from 'zod';
import type { Channel } from '../recording/channel.js';
import { CHANNEL_NAMES } from '../recording/channel.js';
import type { Recording } from '../recording/recording.js';
import { medianOver } from './median-over.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { runsWhere } from './runs.js';

/** Lower than before by more than this: the reading has left the patient downward. */
const LOWER_MMHG = 4;
const LEVEL_MS = 10 * 60_000;
/** A usual pulse under this cannot be seen getting lost, mmHg. */
const LEAST_USUAL_MMHG = 0.2;
/** The amplitude that a quarter of the windows pass is the usual one: a pulse that is lost for hours must not become it. */
const USUAL_SHARE = 0.75;

/**
 * A pressure that stands without its pulse: the amplitude at the heart rate falls under 0.2 of the patient's usual one
 * (that which a quarter of the windows pass) for 1 min or more (kinked or clotted line, probe out of place, a transducer
 * that is turned off). Suspect; ICP stays in where the level is about that before, and is left out where it is lower, as
 * with `damped`; arterial pressure stays in at any level, since a heart that stops, or is bypassed, has no pulse either. Needs a
 * waveform, and a usual amplitude of 0.2 mmHg. Common practice, no source.
 */
export const pulseLost = rule({
  name: 'pulseLost',
  title: 'pulse lost (waveform)',
  needsWaveform: true,
  parameters: z.strictObject({
    share: z.number().positive().max(1).default(0.2),
    minSeconds: z.number().positive().default(60),
  }),
  find(recording, parameters) {
    if (!recording.waveform) return NOTHING;
    const marks: Mark[] = [];
    const stoodAside: string[] = [];
    for (const [pulse, pressure] of [
      ['icpPulse', 'icp'],
      ['abpPulse', 'map'],
    ] as const) {
      const channel = recording.channels[pulse];
      if (!channel) continue;
      const found = lostIn(recording, channel, pressure, parameters);
      if (typeof found === 'string') stoodAside.push(found);
      else marks.push(...found);
    }
    return { marks, stoodAside };
  },
});

function lostIn(
  { channels }: Recording,
  { kind, signal, nominalIntervalMs }: Channel,
  pressure: 'icp' | 'map',
  { share, minSeconds }: { share: number; minSeconds: number },
): Mark[] | string {
  const { times, values, known } = signal;
  const usual = values.slice().sort()[Math.floor(USUAL_SHARE * (values.length - 1))];
  if (!(usual >= LEAST_USUAL_MMHG)) {
    return `${CHANNEL_NAMES[kind]} is usually under ${LEAST_USUAL_MMHG} mmHg; its loss would not show`;
  }
  const level = channels[pressure]?.signal;
  if (!level) return [];
  const isLost = (i: number): boolean => values[i] < share * usual;
  const half = nominalIntervalMs / 2;
  return runsWhere(values.length, isLost)
    .flatMap(({ first, last }) => parted(first, last, known))
    .flatMap(([first, last]): Mark[] => {
      // From the first second of the first window to the last one of the last.
      const [start, end] = [times[first] - half, times[last] + half - 1000];
      if (end + 1000 - start < minSeconds * 1000) return [];
      const isLower =
        medianOver(level, start - LEVEL_MS, start - 1) - medianOver(level, start, end) > LOWER_MMHG;
      const direction = isLower ? 'down' : 'up';
      const kept = pressure === 'map' ? ({ isKept: true } as const) : {};
      return [{ channel: pressure, rule: 'pulseLost', grade: 'suspect', direction, ...kept, start, end }];
    });
}

/** A run of windows in parts that follow each other without a hole. */
function parted(first: number, last: number, known: Uint8Array): [number, number][] {
  const parts: [number, number][] = [[first, first]];
  for (let i = first + 1; i <= last; i++) {
    if (known[i - 1]) parts[parts.length - 1][1] = i;
    else parts.push([i, i]);
  }
  return parts;
}
