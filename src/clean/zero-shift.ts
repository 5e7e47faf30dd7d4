import { z } from 'zod';
import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import type { Signal } from '../recording/signal.js';
import { medianOver } from './median-over.js';
import { nearZeroRuns } from './near-zero.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';
import { zeroingParameters } from './zeroing.js';

/**
 * ICP reads another level behind a zeroing than before it, by 6 mmHg or more: either the old zero was wrong, or the new
 * one is, as when the transducer hung too high or the patient sat up. Nobody can tell which from the export. Suspect
 * until the next zeroing, for 12 h at most; lower levels are left out, higher ones stay in. Needs samples every 5 s.
 * Common practice, no source.
 */
export const zeroShift = rule({
  name: 'zeroShift',
  title: 'another level since the zeroing',
  parameters: z.strictObject({
    shiftMmHg: z.number().positive().default(6),
    levelSeconds: z.number().positive().default(120),
    untilMinutes: z.number().positive().default(720),
  }),
  find(recording, parameters) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, zeroingParameters.parse({}).stepSeconds);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    return { marks: shiftsIn(channel.signal, zeroingsIn(recording), parameters), stoodAside: [] };
  },
});

/** The zeroings that the shape of ICP shows. */
export function zeroingsIn({ channels }: Recording): Interval[] {
  if (!channels.icp) return [];
  const { times } = channels.icp.signal;
  return nearZeroRuns(channels.icp.signal, zeroingParameters.parse({})).map(({ first, last }) => ({
    start: times[first],
    end: times[last],
  }));
}

interface ShiftShape {
  readonly shiftMmHg: number;
  readonly levelSeconds: number;
  readonly untilMinutes: number;
}

function shiftsIn(signal: Signal, zeroings: readonly Interval[], shape: ShiftShape): Mark[] {
  const { times } = signal;
  const ms = shape.levelSeconds * 1000;
  const marks: Mark[] = [];
  /** The shift that is still on; its end is a return and no shift of its own. */
  let standing = 0;
  zeroings.forEach(({ start, end }, i) => {
    const before = medianOver(signal, start - ms, start - 1);
    const after = medianOver(signal, end + 1, end + ms);
    const shift = after - before;
    if (Number.isNaN(shift)) return;
    if (
      standing !== 0 &&
      Math.sign(shift) === -Math.sign(standing) &&
      Math.abs(shift) >= Math.abs(standing) / 2
    ) {
      standing = 0;
      return;
    }
    standing = 0;
    if (Math.abs(shift) < shape.shiftMmHg) return;
    standing = shift;
    const next = zeroings[i + 1]?.start ?? Number.POSITIVE_INFINITY;
    const until = Math.min(next - 1, end + shape.untilMinutes * 60_000, times[times.length - 1]);
    const direction = shift < 0 ? 'down' : 'up';
    marks.push({
      channel: 'icp',
      rule: 'zeroShift',
      grade: 'suspect',
      direction,
      start: end + 1,
      end: until,
    });
  });
  return marks;
}
