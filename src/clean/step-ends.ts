/** What ends a step, and what is the end of something else. */
import type { Interval } from '../recording/interval.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { equalRuns } from './equal-runs.js';
import { LEVEL_SECONDS, levelChange, type Step, stepAt } from './level-step.js';
import { medianOver } from './median-over.js';

/** A frozen stretch of this chance ends with a jump that nobody made. */
const FROZEN_CHANCE = 1e-6;

export const STAYS_MS = 300_000;

/** The moments at which frozen stretches end. */
export const frozenEnds = (signal: Signal, slackMs: number): Interval[] =>
  equalRuns(signal)
    .filter(
      ({ first, last, chanceOfRepeats }) =>
        chanceOfRepeats < FROZEN_CHANCE && signal.times[last] - signal.times[first] >= STAYS_MS,
    )
    .map(({ last }) => ({ start: signal.times[last] - slackMs, end: signal.times[last] + 2 * slackMs }));

const lastUntil = ({ times }: Signal, from: number, limit: number): number =>
  Math.max(from, firstAfter(times, limit) - 1);

export interface Return {
  /** The last sample on the stepped level. */
  readonly last: number;
  /** Where the search goes on: a return is no step of its own. */
  readonly next: number;
  readonly isStep: boolean;
  /** True where it is about as large as the step: the two belong together, whatever lies between. */
  readonly isPair: boolean;
}

/** Sizes that differ by less than this share are the same. */
const PAIR_SHARE = 0.25;

/** What undoes a step: the first reverse step of half its size, or zeroing across which the level comes back so far. */
export function returnOf(
  signal: Signal,
  { arrived, size }: Step,
  zeroings: readonly Interval[],
  withinSeconds: number,
  limit: number,
): Return | null {
  const { times } = signal;
  const half = Math.abs(size) / 2;
  const isPair = (change: number): boolean => Math.abs(change + size) <= PAIR_SHARE * Math.abs(size);
  const zeroing = zeroings.find(({ start, end }) => {
    if (start <= times[arrived] || start > limit) return false;
    return levelChange(signal, start, end, LEVEL_SECONDS) * -Math.sign(size) >= half;
  });
  for (let i = arrived; i + 1 < times.length && times[i + 1] <= limit; i++) {
    if (zeroing && times[i + 1] >= zeroing.start) {
      const change = levelChange(signal, zeroing.start, zeroing.end, LEVEL_SECONDS);
      return { last: i, next: firstAfter(times, zeroing.end), isStep: false, isPair: isPair(change) };
    }
    const back = stepAt(signal, i, withinSeconds, half);
    if (back && Math.sign(back.size) === -Math.sign(size)) {
      return { last: back.arrived - 1, next: back.arrived, isStep: true, isPair: isPair(back.size) };
    }
  }
  return null;
}

/** The old level stands again where a median is within this share of the step; looked for every minute. */
const BACK_SHARE = 0.1;
const LOOK_MS = 60_000;
/** Before a reverse step of another size it has to stand so long, since a shifted level wanders too. */
export const LONG_BACK_MS = 1_800_000;

/** The last sample before the old level stands again, by whatever way it came back; the last one until the limit where it does not. */
export function lastBeforeBack(
  signal: Signal,
  { arrived, size, level }: Step,
  limit: number,
  standsMs: number,
): number {
  const { times } = signal;
  const until = Math.min(limit, times[times.length - 1]);
  for (let at = times[arrived]; at + standsMs <= until; at += LOOK_MS) {
    const away = (medianOver(signal, at, at + standsMs) - (level - size)) * Math.sign(size);
    if (away <= BACK_SHARE * Math.abs(size)) return Math.max(arrived, firstAtOrAfter(times, at) - 1);
  }
  return lastUntil(signal, arrived, limit);
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
