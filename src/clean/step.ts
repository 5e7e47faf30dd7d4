import { z } from 'zod';
import type { Interval } from '../recording/interval.js';
import { firstAfter } from '../recording/search.js';
import { changesOf } from './care-window.js';
import { ceilingOf } from './ceiling.js';
import { entriesOf, mapRiseOver } from './evidence.js';
import { beganWithCough, LEVEL_SECONDS, levelChange, stepAt } from './level-step.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';
import { cameAlive, frozenEnds, lastOfStep, returnOf, STAYS_MS } from './step-ends.js';
import { zeroingsIn } from './zeroings.js';

/** MAP that rises by this much in the seconds of a step up says that somebody coughed. */
const COUGH_MAP_MMHG = 8;
/** At the ceiling of a channel no spike shows over the new level: nobody can say that it was no cough. */
const COUGH_OVER_MMHG = 4;
/** A step up from here ends a lost zero, or the floor of a channel. */
const MENDED_UNDER_MMHG = 2;

/**
 * A level change of 10 mmHg or more within 10 s that stays 5 min, without a partner in MAP or a logged change of the
 * drain, and not a rise that a cough began: a probe pulled or pushed, a lost zero. Suspect until a reverse step of half
 * its size or a zeroing that brings the level back (12 h at most), else until any zeroing or for 60 min; but not beyond
 * the time at which the old level stands again, for 5 min where nothing reverses the step, or for 30 min where what does
 * is of another size. The end of a zeroing, of a frozen or of a damped stretch is no step. Needs samples every 10 s.
 * Common practice, no source.
 */
export const step = rule({
  name: 'step',
  title: 'step to another level',
  parameters: z.strictObject({
    stepMmHg: z.number().min(2).default(10),
    withinSeconds: z.number().positive().default(10),
    untilMinutes: z.number().positive().default(60),
    returnWithinMinutes: z.number().positive().default(720),
  }),
  find(recording, { stepMmHg, withinSeconds, untilMinutes, returnWithinMinutes }) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, withinSeconds);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { signal } = channel;
    const map = recording.channels.map?.signal;
    const zeroings = zeroingsIn(channel);
    const ceiling = ceilingOf(signal) ?? Number.POSITIVE_INFINITY;
    const byDrain = entriesOf(recording, 'drainOpen', 'drainClosed').flatMap(changesOf);
    const explained = [
      ...zeroings.map(({ start, end }) => ({
        start: start - withinSeconds * 1000,
        end: end + withinSeconds * 1000,
      })),
      ...frozenEnds(signal, withinSeconds * 1000),
    ];
    const holds = (spans: readonly Interval[], at: number): boolean =>
      spans.some(({ start, end }) => start <= at && at <= end);
    const zeroed = [...entriesOf(recording, 'zeroing'), ...zeroings]
      .map(({ start }) => start)
      .sort((a, b) => a - b);
    const marks: Mark[] = [];
    for (let i = 0; i + 1 < signal.times.length; i++) {
      const change = stepAt(signal, i, withinSeconds, stepMmHg);
      if (!change) continue;
      const [from, start] = [signal.times[i], signal.times[change.arrived]];
      const partner = map ? levelChange(map, from, start, LEVEL_SECONDS) : 0;
      if (partner * Math.sign(change.size) >= stepMmHg || holds(explained, start)) continue;
      const returnWithin = start + returnWithinMinutes * 60_000;
      if (holds(byDrain, start)) {
        // What explains a step explains the step that undoes it.
        const back = returnOf(signal, change, zeroings, withinSeconds, returnWithin);
        if (back?.isStep && back.isPair) i = back.next - 1;
        continue;
      }
      if (cameAlive(signal, from, start)) continue;
      if (change.size > 0) {
        const isMended = change.level - change.size < MENDED_UNDER_MMHG;
        if (isMended || change.level >= ceiling - COUGH_OVER_MMHG) continue;
        const mapRise = mapRiseOver(recording, { start: from, end: start }) ?? 0;
        if (mapRise >= COUGH_MAP_MMHG || beganWithCough(signal, i, change)) continue;
      }
      const back = returnOf(signal, change, zeroings, withinSeconds, returnWithin);
      const zero = zeroed[firstAfter(zeroed, start)] ?? Number.POSITIVE_INFINITY;
      const limit = Math.min(zero - 1, start + untilMinutes * 60_000);
      const last = lastOfStep(signal, change, back, limit);
      const direction = change.size < 0 ? 'down' : 'up';
      const span = { start, end: signal.times[last] };
      // A level that is gone again within 5 min did not stay.
      if (!back?.isStep || span.end - start >= STAYS_MS) {
        marks.push({ channel: 'icp', rule: 'step', grade: 'suspect', direction, ...span });
      }
      i = back && last === back.last ? back.next - 1 : last;
    }
    return { marks, stoodAside: [] };
  },
});
