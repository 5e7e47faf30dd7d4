import type { Channel } from '../recording/channel.js';
import type { Signal } from '../recording/signal.js';
import { type Bump, bumpsOver, withoutBumps } from './bumps.js';
import { medianOver } from './median-over.js';
import { rhythmAround } from './rhythm.js';

/** What a brief spike is, as the pipeline file says it. */
export interface SpikeShape {
  readonly riseMmHg: number;
  /** Sharp spikes come and go within this time, whatever the level does around them. */
  readonly sharpSeconds: number;
  /** Slower ones within this time, and the level has to settle behind them. */
  readonly maxSeconds: number;
  /** Levels before and after are taken over this time. */
  readonly baselineSeconds: number;
  /** Autocorrelation from which on excursions are waves. */
  readonly rhythm: number;
}

/** Waves come in numbers: so many others of about this share of the height within 5 min on either side. */
const FELLOWS = 2;
const FELLOW_SHARE = 0.6;
const FELLOWS_MS = 300_000;

/** Where samples are too rare to show the rhythm, such a number of them that lie this far to both sides says the same. */
const RARE_MS = 10_000;
const RARE_FELLOWS = 4;
const RARE_SPREAD_MS = 120_000;

/** True where the bump is one of many like it that come in a rhythm. */
function isWave(
  signal: Signal,
  all: readonly Bump[],
  at: number,
  rhythm: number,
  nominalMs: number,
): boolean {
  const { times } = signal;
  const bump = all[at];
  const middle = times[bump.peak];
  const fellows: number[] = [];
  for (const step of [-1, 1]) {
    for (let i = at + step; i >= 0 && i < all.length; i += step) {
      const away = times[all[i].peak] - middle;
      if (Math.abs(away) > FELLOWS_MS) break;
      if (all[i].riseMmHg >= FELLOW_SHARE * bump.riseMmHg) fellows.push(away);
    }
  }
  if (fellows.length < FELLOWS) return false;
  const isSpread = Math.min(...fellows) < -RARE_SPREAD_MS && Math.max(...fellows) > RARE_SPREAD_MS;
  if (nominalMs > RARE_MS && fellows.length >= RARE_FELLOWS && isSpread) return true;
  return rhythmAround(signal, middle) >= rhythm;
}

/** A pressure that ebbs goes on falling behind its top, by this share of the height or more in the same time. */
const EBB_SHARE = 0.5;
const MOMENT_MS = 3_000;

/** True where the bump is only the top of a pressure that ebbs. */
function isTopOfEbb(signal: Signal, { last, riseMmHg }: Bump, seconds: number): boolean {
  const from = signal.times[last + 1];
  const to = from + seconds * 1000;
  const fall = medianOver(signal, from, from + MOMENT_MS) - medianOver(signal, to - MOMENT_MS, to);
  return fall >= EBB_SHARE * riseMmHg;
}

/** Bumps of the full height that are no waves; smaller ones count as fellows of a rhythm. */
function spikesAmong(
  signal: Signal,
  { riseMmHg, rhythm }: SpikeShape,
  seconds: number,
  nominalMs: number,
): Bump[] {
  const bumps = bumpsOver(signal, { leastMmHg: riseMmHg / 2, seconds }, nominalMs);
  return bumps.filter(
    (bump, at) =>
      bump.riseMmHg >= riseMmHg &&
      !isTopOfEbb(signal, bump, seconds) &&
      !isWave(signal, bumps, at, rhythm, nominalMs),
  );
}

/** Spikes that come and go within seconds, over whatever level stands around them. */
export const sharpSpikes = ({ signal, nominalIntervalMs }: Channel, shape: SpikeShape): Bump[] =>
  spikesAmong(signal, shape, Math.min(shape.sharpSeconds, shape.maxSeconds), nominalIntervalMs);

/** Levels that differ by less than this are the same, mmHg; or by less than this share of the height. */
const SAME_MMHG = 4;
const SAME_SHARE = 1 / 3;

/** A slower spike comes down from three quarters of its height to one quarter within this time: it falls back at once. */
const FALL_MS = 20_000;

function fallsAtOnce(
  { times, values }: Signal,
  { last, peak }: Bump,
  level: number,
  nominalMs: number,
): boolean {
  const height = values[peak] - level;
  let high = last;
  while (high > peak && values[high] < level + 0.75 * height) high--;
  let low = high;
  while (low < last + 1 && values[low] > level + 0.25 * height) low++;
  return times[low] - times[high] <= Math.max(FALL_MS, 2 * nominalMs);
}

/** Medians of the samples next to a run, over so many milliseconds before and behind it, mmHg. */
function levelsBeside(signal: Signal, { first, last }: Bump, ms: number): { before: number; after: number } {
  const { times } = signal;
  return {
    before: medianOver(signal, times[first - 1] - ms, times[first - 1]),
    after: medianOver(signal, times[last + 1], times[last + 1] + ms),
  };
}

/** True where the level behind a bump is that before it, or another at which it stays: what ebbs away is real. */
function settles(signal: Signal, bump: Bump, shape: SpikeShape, nominalMs: number): boolean {
  const { times, values } = signal;
  const ms = shape.baselineSeconds * 1000;
  const { before, after } = levelsBeside(signal, bump, ms);
  const [from, to] = [times[bump.last + 1], times[bump.last + 1] + ms];
  const height = values[bump.peak] - Math.max(before, after);
  if (!(height >= shape.riseMmHg) || !fallsAtOnce(signal, bump, after, nominalMs)) return false;
  const same = Math.max(SAME_MMHG, height * SAME_SHARE);
  const early = medianOver(signal, from, from + ms / 3);
  const late = medianOver(signal, to - ms / 3, to);
  return Math.abs(after - before) <= same || Math.abs(late - early) <= SAME_MMHG;
}

/** Slower spikes, on the signal without the sharp ones. */
export function slowerSpikes(
  { signal, nominalIntervalMs }: Channel,
  shape: SpikeShape,
  sharp: readonly Bump[],
): Bump[] {
  const rest = withoutBumps(signal, sharp);
  return spikesAmong(rest, shape, shape.maxSeconds, nominalIntervalMs).filter((bump) =>
    settles(rest, bump, shape, nominalIntervalMs),
  );
}

/** Excursions that rise and fall at once, and come back to the level they left. */
export const trapezoids = (channel: Channel, shape: SpikeShape): Bump[] =>
  excursions(channel, shape).filter((bump) => {
    const { times, values } = channel.signal;
    const { first, peak } = bump;
    const { before, after } = levelsBeside(channel.signal, bump, shape.baselineSeconds * 1000);
    const level = Math.max(before, after);
    const height = values[peak] - level;
    let low = first;
    while (low < peak && values[low] < level + 0.25 * height) low++;
    let high = low;
    while (high < peak && values[high] < level + 0.75 * height) high++;
    return (
      times[high] - times[low] <= Math.max(FALL_MS, 2 * channel.nominalIntervalMs) &&
      fallsAtOnce(channel.signal, bump, level, channel.nominalIntervalMs)
    );
  });

/** Excursions of up to the longest time that come back to the level they left; how fast they fall does not matter. */
export function excursions({ signal, nominalIntervalMs }: Channel, shape: SpikeShape): Bump[] {
  return spikesAmong(signal, shape, shape.maxSeconds, nominalIntervalMs).filter((bump) => {
    const { before, after } = levelsBeside(signal, bump, shape.baselineSeconds * 1000);
    const height = signal.values[bump.peak] - Math.max(before, after);
    return height >= shape.riseMmHg && Math.abs(after - before) <= Math.max(SAME_MMHG, height * SAME_SHARE);
  });
}
