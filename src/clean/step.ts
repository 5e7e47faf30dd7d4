import { z } from 'zod';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { windowOf } from './care-window.js';
import { entriesOf } from './evidence.js';
import { levelsAround } from './levels.js';
import { samplesOver } from './median-over.js';
import { type Mark, NOTHING, rule } from './rule.js';
import { tooCoarse } from './sampling-limit.js';
import { zeroingsIn } from './zero-shift.js';

/** The levels before and after a step are medians over so many seconds; the later one shows that it stays. */
const LEVEL_SECONDS = 120;
const STAYS_SECONDS = 300;

/** A rise that begins with spikes over the new level came with a cough: it is the patient's. */
const OVERSHOOT_MMHG = 8;
const OVERSHOOT_BEFORE_MS = 30_000;
const OVERSHOOT_AFTER_MS = 60_000;

/**
 * A level change of 10 mmHg or more within 10 s that stays, without a partner in MAP or a logged change of the drain,
 * and not a rise that a cough began: a probe pulled or pushed, a lost zero. Suspect until a reverse step of half its
 * size, a zeroing (logged, or seen), or for 60 min. Needs samples every 10 s. Common practice, no source.
 */
export const step = rule({
  name: 'step',
  title: 'step to another level',
  parameters: z.strictObject({
    stepMmHg: z.number().positive().default(10),
    withinSeconds: z.number().positive().default(10),
    untilMinutes: z.number().positive().default(60),
  }),
  find(recording, { stepMmHg, withinSeconds, untilMinutes }) {
    const channel = recording.channels.icp;
    if (!channel) return NOTHING;
    const coarse = tooCoarse(channel, withinSeconds);
    if (coarse) return { marks: [], stoodAside: [coarse] };
    const { signal } = channel;
    const map = recording.channels.map?.signal;
    const drainTurned = entriesOf(recording, 'drainOpen', 'drainClosed').map(windowOf);
    const zeroed = [
      ...entriesOf(recording, 'zeroing').map(({ start }) => start),
      ...zeroingsIn(recording).map(({ start }) => start),
    ].sort((a, b) => a - b);
    const marks: Mark[] = [];
    for (let i = 0; i + 1 < signal.times.length; i++) {
      const change = stepAt(signal, i, withinSeconds, stepMmHg);
      if (!change) continue;
      const partner = map
        ? levelChange(map, signal.times[i], signal.times[change.arrived], LEVEL_SECONDS)
        : 0;
      if (partner * Math.sign(change.size) >= stepMmHg) continue;
      const start = signal.times[change.arrived];
      if (drainTurned.some((window) => window.start <= start && start <= window.end)) continue;
      if (change.size > 0 && beganWithCough(signal, i, change)) continue;
      const zero = zeroed[firstAfter(zeroed, start)] ?? Number.POSITIVE_INFINITY;
      const limit = Math.min(zero - 1, start + untilMinutes * 60_000);
      const { last, next } = endOfStep(signal, change, withinSeconds, limit);
      const direction = change.size < 0 ? 'down' : 'up';
      marks.push({
        channel: 'icp',
        rule: 'step',
        grade: 'suspect',
        direction,
        start,
        end: signal.times[last],
      });
      i = next - 1;
    }
    return { marks, stoodAside: [] };
  },
});

interface Step {
  /** First sample on the new level. */
  readonly arrived: number;
  /** New level minus old level, mmHg. */
  readonly size: number;
  /** The new level, mmHg. */
  readonly level: number;
}

/** True where samples around the step stand well over the level that it leads to. */
function beganWithCough(signal: Signal, left: number, { arrived, level }: Step): boolean {
  const { times } = signal;
  const around = samplesOver(signal, times[left] - OVERSHOOT_BEFORE_MS, times[arrived] + OVERSHOOT_AFTER_MS);
  return around.some((value) => value >= level + OVERSHOOT_MMHG);
}

/** Median over a stretch of time; NaN where the samples do not span half of it: a few are no level. */
function level({ times, values }: Signal, from: number, to: number): number {
  const first = firstAtOrAfter(times, from);
  const behind = firstAfter(times, to);
  const spanned = behind > first ? times[behind - 1] - times[first] : 0;
  return spanned < (to - from) / 2 ? Number.NaN : median(values.subarray(first, behind));
}

const levelChange = (signal: Signal, before: number, after: number, seconds: number): number =>
  level(signal, after, after + seconds * 1000) - level(signal, before - seconds * 1000, before);

/** The step that starts after sample i; null where there is none, or where the old level comes back. */
function stepAt(signal: Signal, i: number, withinSeconds: number, leastMmHg: number): Step | null {
  const { times, values } = signal;
  let arrived = i + 1;
  while (arrived < times.length && times[arrived] - times[i] <= withinSeconds * 1000) {
    if (Math.abs(values[arrived] - values[i]) >= leastMmHg) break;
    arrived++;
  }
  if (arrived >= times.length || times[arrived] - times[i] > withinSeconds * 1000) return null;
  const sign = Math.sign(values[arrived] - values[i]);
  const { before, after } = levelsAround(signal, LEVEL_SECONDS);
  const size = after[arrived] - before[i];
  if (!(size * sign >= leastMmHg)) return null;
  // The way there has to be the step itself: before it the old level, behind it the new one.
  const leaves = Math.abs(values[i] - before[i]) <= leastMmHg / 2;
  const lands = Math.abs(values[arrived] - after[arrived]) <= leastMmHg / 2;
  if (!leaves || !lands) return null;
  const stays = [LEVEL_SECONDS, STAYS_SECONDS].every(
    (seconds) => levelChange(signal, times[i], times[arrived], seconds) * sign >= leastMmHg,
  );
  return stays ? { arrived, size, level: after[arrived] } : null;
}

/**
 * The last sample of the stretch: before a reverse step of half the size, or at the time limit. `next` is where the
 * search goes on: behind the reverse step, which is a return and no step of its own.
 */
function endOfStep(
  signal: Signal,
  { arrived, size }: Step,
  withinSeconds: number,
  limit: number,
): { last: number; next: number } {
  const { times } = signal;
  let i = arrived;
  for (; i + 1 < times.length && times[i + 1] <= limit; i++) {
    const back = stepAt(signal, i, withinSeconds, Math.abs(size) / 2);
    if (back && Math.sign(back.size) === -Math.sign(size))
      return { last: back.arrived - 1, next: back.arrived };
  }
  return { last: i, next: i + 1 };
}
