import { z } from 'zod';
import type { Recording } from '../recording/recording.js';
import { LEVEL_SECONDS, levelChange, stepAt } from './level-step.js';
import { medianOver } from './median-over.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';
import { cameAlive, frozenEnds, lastOfStep, returnOf } from './step-ends.js';

/** ICP that changes by so much with it says that the patient changed. */
const ICP_STAYS_MMHG = 3;

/**
 * The transducer of the arterial line raised or lowered: MAP jumps by 10 mmHg or more within 10 s to another level that
 * stays 5 min, while pulse pressure, where systolic and diastolic pressure are exported, and ICP, which has to be known,
 * stay as they were. A fall is looked for only where pulse pressure is exported: without it nobody could tell it from the
 * patient's. A fall or rise of the patient's own takes longer, or takes pulse pressure with it; flushing and drawing blood
 * come back. A jump beyond what the height of a bed explains is none. Suspect until a reverse step of half its size (12 h
 * at most), else for 60 min; but not beyond the time at which the old level stands again. It stays in CPP either way: a
 * low CPP that may be true must not be left out. Needs samples every 10 s. Common practice, no source.
 */
export const transducerMoved = rule({
  name: 'transducerMoved',
  title: 'arterial transducer moved',
  parameters: z.strictObject({
    stepMmHg: z.number().min(2).default(10),
    mostMmHg: z.number().positive().default(50),
    withinSeconds: z.number().positive().default(10),
    pulsePressureShare: z.number().positive().default(0.2),
    untilMinutes: z.number().positive().default(60),
    returnWithinMinutes: z.number().positive().default(720),
  }),
  find(recording, parameters) {
    const { stepMmHg, mostMmHg, withinSeconds, untilMinutes, returnWithinMinutes } = parameters;
    const { map: channel, icp } = recording.channels;
    if (!channel || !icp) return NOTHING;
    const coarse = tooCoarse(channel, withinSeconds) ?? tooCoarse(icp, withinSeconds);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { signal } = channel;
    const { times } = signal;
    const marks: Mark[] = [];
    let thawed: ReturnType<typeof frozenEnds> | null = null;
    for (let i = 0; i + 1 < times.length; i++) {
      const change = stepAt(signal, i, withinSeconds, stepMmHg);
      if (!change || Math.abs(change.size) > mostMmHg) continue;
      const [from, start] = [times[i], times[change.arrived]];
      const ofIcp = levelChange(icp.signal, from, start, LEVEL_SECONDS);
      if (!(Math.abs(ofIcp) < ICP_STAYS_MMHG) || cameAlive(signal, from, start)) continue;
      const pulse = pulseChange(recording, from, start);
      if (pulse !== null && pulse >= parameters.pulsePressureShare) continue;
      thawed ??= frozenEnds(signal, withinSeconds * 1000);
      if (thawed.some((span) => span.start <= start && start <= span.end)) continue;
      const back = returnOf(signal, change, [], withinSeconds, start + returnWithinMinutes * 60_000);
      if (pulse === null && change.size < 0) {
        // The step that undoes a fall is no other move.
        if (back?.isStep && back.isPair) i = back.next - 1;
        continue;
      }
      const last = lastOfStep(signal, change, back, start + untilMinutes * 60_000);
      const direction = change.size < 0 ? 'down' : 'up';
      marks.push({
        channel: 'map',
        rule: 'transducerMoved',
        grade: 'suspect',
        direction,
        isKept: true,
        start,
        end: times[last],
      });
      i = back && last === back.last ? back.next - 1 : last;
    }
    return { marks, stoodAside: [] };
  },
});

/** How much pulse pressure changes, as a share of what it was; null where it is not known on both sides. */
function pulseChange({ channels: { sbp, dbp } }: Recording, from: number, start: number): number | null {
  if (!sbp || !dbp) return null;
  const pulse = (start: number, end: number): number =>
    medianOver(sbp.signal, start, end) - medianOver(dbp.signal, start, end);
  const before = pulse(from - LEVEL_SECONDS * 1000, from);
  const change = Math.abs(pulse(start, start + LEVEL_SECONDS * 1000) - before) / before;
  return Number.isNaN(change) ? null : change;
}
