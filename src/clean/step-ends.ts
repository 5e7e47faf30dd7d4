/** What ends a step, and what is the end of something else. */
import type { Interval } from '../recording/interval.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { frozenRuns } from './frozen-runs.js';
import { LEVEL_SECONDS, levelChange, type Step, stepAt } from './level-step.js';
import { medianOver } from './median-over.js';

/** A frozen stretch of this chance ends with a jump that nobody made. */
const FROZEN_CHANCE = 1e-6;

export const STAYS_MS = 300_000;

/** The moments at which frozen stretches end. */
export const frozenEnds = (signal: Signal, slackMs: number): Interval[] =>
  frozenRuns(signal, { minMs: STAYS_MS, chance: FROZEN_CHANCE })
    .filter(({ hasLived }) => hasLived)
    .map(({ last }) => ({ start: signal.times[last] - slackMs, end: signal.times[last] + 2 * slackMs }));

const lastUntil = ({ times }: Signal, from: number, limit: number): number =>
  Math.max(from, firstAfter(times, limit) - 1);

export interface Return {
  /** The last sample on the stepped level. */
  readonly last: number;
  /** Where the search goes on: a return is no step of its own. */
  readonly next: number;
  readonly isStep: boolean;
  /** True where it is about as large as the step and leads back to the old level: the two belong together. */
  readonly isPair: boolean;
}

/** Sizes that differ by less than this share are the same. */
const PAIR_SHARE = 0.25;
/** Over hours a level wanders: the old one is met again to this share of the step. */
const OLD_LEVEL_SHARE = 0.75;
/** So much of the time between the two has to lie nearer to the level that the step led to; it ebbs and wanders too. */
const MOSTLY = 0.35;

/** True where x mostly stood on the level of the step until the return, which led back to the old one. */
function belongTogether(signal: Signal, { arrived, size, level }: Step, last: number, next: number): boolean {
  const { times, values } = signal;
  const old = level - size;
  const after = medianOver(signal, times[next], times[next] + LEVEL_SECONDS * 1000);
  if (Math.abs(after - old) > OLD_LEVEL_SHARE * Math.abs(size)) return false;
  let shifted = 0;
  for (let i = arrived; i <= last; i++) if ((values[i] - old - size / 2) * size > 0) shifted++;
  return shifted >= MOSTLY * (last - arrived + 1);
}

/** What undoes a step: the first reverse step of half its size, or zeroing across which the level comes back so far. */
export function returnOf(
  signal: Signal,
  change: Step,
  zeroings: readonly Interval[],
  withinSeconds: number,
  limit: number,
): Return | null {
  const { times } = signal;
  const { arrived, size } = change;
  const half = Math.abs(size) / 2;
  const isPair = (back: number, last: number, next: number): boolean =>
    Math.abs(back + size) <= PAIR_SHARE * Math.abs(size) && belongTogether(signal, change, last, next);
  const zeroing = zeroings.find(({ start, end }) => {
    if (start <= times[arrived] || start > limit) return false;
    return levelChange(signal, start, end, LEVEL_SECONDS) * -Math.sign(size) >= half;
  });
  for (let i = arrived; i + 1 < times.length && times[i + 1] <= limit; i++) {
    if (zeroing && times[i + 1] >= zeroing.start) {
      const size = levelChange(signal, zeroing.start, zeroing.end, LEVEL_SECONDS);
      const next = firstAfter(times, zeroing.end);
      return { last: i, next, isStep: false, isPair: isPair(size, i, next) };
    }
    const back = stepAt(signal, i, withinSeconds, half);
    if (back && Math.sign(back.size) === -Math.sign(size)) {
      const [last, next] = [back.arrived - 1, back.arrived];
      return { last, next, isStep: true, isPair: isPair(back.size, last, next) };
    }
  }
  return null;
}

/** The old level stands again where a median is within this share of the step; looked for every minute. */
const BACK_SHARE = 0.1;
const LOOK_MS = 60_000;
/** Before a reverse step of another size it has to stand so long, since a shifted level wanders too. */
const LONG_BACK_MS = 1_800_000;

/** The last sample before the old level stands again, by whatever way it came back; the last one until the limit where it does not. */
function lastBeforeBack(
  signal: Signal,
  { arrived, size, level }: Step,
  limit: number,
  standsMs: number,
): number {
  const { times } = signal;
  const until = Math.min(limit, times[times.length - 1]);
  for (let at = times[arrived]; at + standsMs <= until; at += LOOK_MS) {
    const away = (medianOver(signal, at, at + standsMs) - (level - size)) * Math.sign(size);
    if (away <= BACK_SHARE * Math.abs(size)) return lastOnTheWay(signal, arrived, at, level - size / 2, size);
  }
  return lastUntil(signal, arrived, limit);
}

/** The last sample of a step: before what undoes it, and not beyond the time at which the old level stands again. */
export function lastOfStep(signal: Signal, change: Step, back: Return | null, limit: number): number {
  if (back?.isPair) return back.last;
  return back
    ? lastBeforeBack(signal, change, signal.times[back.last], LONG_BACK_MS)
    : lastBeforeBack(signal, change, limit, STAYS_MS);
}

/** A way back is over where the median of so long lies beyond the middle. */
const OVER_MS = 30_000;

/** The last sample on the far side of a way back around `at`: the median that found it looked minutes ahead. */
function lastOnTheWay(signal: Signal, arrived: number, at: number, middle: number, size: number): number {
  const { times } = signal;
  const isAway = (i: number): boolean =>
    (medianOver(signal, times[i], times[i] + OVER_MS) - middle) * Math.sign(size) > 0;
  let next = firstAtOrAfter(times, at);
  while (next < times.length && isAway(next)) next++;
  while (next - 1 > arrived && !isAway(next - 1)) next--;
  return Math.max(arrived, next - 1);
}

const SCATTER_MS = 180_000;
/** Jumps are no scatter, mmHg. */
const SCATTER_CAP_MMHG = 4;
const CALM_SHARE = 0.4;

/** True where the channel lay calm before and scatters behind: a damped line or an open drain ends, and the patient is back. */
export function cameAlive(signal: Signal, from: number, to: number): boolean {
  return scatter(signal, from - SCATTER_MS, from) < CALM_SHARE * scatter(signal, to, to + SCATTER_MS);
}

/** Mean difference of neighbouring samples, mmHg. */
function scatter({ times, values }: Signal, from: number, to: number): number {
  const first = firstAtOrAfter(times, from);
  const behind = firstAfter(times, to);
  let sum = 0;
  let pairs = 0;
  for (let i = first; i + 1 < behind; i++) {
    const difference = Math.abs(values[i + 1] - values[i]);
    if (difference > SCATTER_CAP_MMHG) continue;
    sum += difference;
    pairs++;
  }
  return sum / pairs;
}
