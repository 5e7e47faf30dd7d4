import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { levelsAround } from './levels.js';
import { samplesOver } from './median-over.js';
import { scatterOf } from './robust-spread.js';

/** The levels before and after a step are medians over so many seconds; longer ones show that it stays. */
export const LEVEL_SECONDS = 120;
const STAYS_SECONDS = 300;
/** Before a step the level is asked for this long, so that a train of coughs does not make it. */
const STOOD_SECONDS = 600;
/** So much of the samples on either side lies on its side of the middle; waves go to and fro. */
const LEAST_APART = 0.85;
const APART_MS = 120_000;

/** A jump from one level to another. */
export interface Step {
  /** First sample on the new level. */
  readonly arrived: number;
  /** New level minus old level, mmHg. */
  readonly size: number;
  /** The new level, mmHg. */
  readonly level: number;
}

/** Median over a stretch of time; NaN where the samples do not span half of it: a few are no level. */
function level({ times, values }: Signal, from: number, to: number): number {
  const first = firstAtOrAfter(times, from);
  const behind = firstAfter(times, to);
  const spanned = behind > first ? times[behind - 1] - times[first] : 0;
  return spanned < (to - from) / 2 ? Number.NaN : median(values.subarray(first, behind));
}

/** Level after minus level before, over so many seconds each, mmHg; NaN where either is not known. */
export const levelChange = (
  signal: Signal,
  before: number,
  after: number,
  seconds: number,
  longerBefore = seconds,
): number =>
  level(signal, after, after + seconds * 1000) - level(signal, before - longerBefore * 1000, before);

/** The step that starts after sample i; null where there is none, or where the old level comes back. */
export function stepAt(signal: Signal, i: number, withinSeconds: number, leastMmHg: number): Step | null {
  const { times, values } = signal;
  let arrived = i + 1;
  while (arrived < times.length && times[arrived] - times[i] <= withinSeconds * 1000) {
    if (Math.abs(values[arrived] - values[i]) >= leastMmHg) break;
    arrived++;
  }
  if (arrived >= times.length || times[arrived] - times[i] > withinSeconds * 1000) return null;
  const sign = Math.sign(values[arrived] - values[i]);
  const { before, after } = levelsAround(signal, LEVEL_SECONDS);
  const isOnTheWay = (at: number): boolean => Math.abs(values[at] - after[at]) > leastMmHg / 2;
  while (isOnTheWay(arrived) && times[arrived + 1] - times[i] <= withinSeconds * 1000) arrived++;
  const size = after[arrived] - before[i];
  if (!(size * sign >= leastMmHg)) return null;
  // The way there has to be the step itself: before it the old level, behind it the new one.
  const leaves = Math.abs(values[i] - before[i]) <= leastMmHg / 2;
  const lands = Math.abs(values[arrived] - after[arrived]) <= leastMmHg / 2;
  if (!leaves || !lands || !standsApart(signal, i, arrived, before[i] + size / 2, sign)) return null;
  const stays = [LEVEL_SECONDS, STAYS_SECONDS].every(
    (seconds) => levelChange(signal, times[i], times[arrived], seconds) * sign >= leastMmHg,
  );
  if (!stays) return null;
  // Where too little stands before for the longest look back, the shorter ones decide.
  const stood = levelChange(signal, times[i], times[arrived], STAYS_SECONDS, STOOD_SECONDS) * sign;
  return stood < leastMmHg ? null : { arrived, size, level: after[arrived] };
}

/** True where nearly all samples before lie on one side of the middle, and nearly all behind on the other. */
function standsApart(signal: Signal, left: number, arrived: number, middle: number, sign: number): boolean {
  const { times } = signal;
  const before = samplesOver(signal, times[left] - APART_MS, times[left]);
  const after = samplesOver(signal, times[arrived], times[arrived] + APART_MS);
  const share = (side: Float64Array, way: number): number =>
    side.reduce((n, value) => n + (way * (value - middle) > 0 ? 1 : 0), 0) / side.length;
  return share(before, -sign) >= LEAST_APART && share(after, sign) >= LEAST_APART;
}

/** A rise that begins with spikes over the new level came with a cough: it is the patient's. */
const OVERSHOOT_MMHG = 4;
const OVERSHOOT_SCATTERS = 4;
const OVERSHOOT_BEFORE_MS = 30_000;
const OVERSHOOT_AFTER_MS = 60_000;

/** True where samples around the step stand well over the level that it leads to. */
export function beganWithCough(signal: Signal, left: number, { arrived, level }: Step): boolean {
  const { times } = signal;
  const around = samplesOver(signal, times[left] - OVERSHOOT_BEFORE_MS, times[arrived] + OVERSHOOT_AFTER_MS);
  const least = Math.max(OVERSHOOT_MMHG, OVERSHOOT_SCATTERS * scatterOf(signal));
  return around.some((value) => value >= level + least);
}
