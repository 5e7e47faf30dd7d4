import type { Interval } from '../../recording/interval.js';
import { interpolate } from '../../recording/pieces.js';
import type { Signal } from '../../recording/signal.js';
import { doseFrom } from './dose-from.js';
import { type LimitCounts, LimitReplay } from './limit-replay.js';
import type { ReplayedReading, ReplayGrid, TriedSettings } from './replay-grid.js';

const MINUTE_MS = 60_000;

/** Tells each limit of its crossings, in one pass: a sample that stays between the same two limits costs one comparison. */
function tellCrossings(
  { times, values, known }: Signal,
  limits: readonly number[],
  replays: readonly LimitReplay[],
): void {
  const levels = Float64Array.from(limits);
  /** How many limits the signal is past; those are the first of the list. */
  let past = 0;
  // The values between which none is crossed: not past the upper one, past the lower one.
  let over = Number.NEGATIVE_INFINITY;
  let upTo = levels[0] ?? Number.POSITIVE_INFINITY;
  const settle = (): void => {
    over = past === 0 ? Number.NEGATIVE_INFINITY : levels[past - 1];
    upTo = past === levels.length ? Number.POSITIVE_INFINITY : levels[past];
  };
  for (let i = 0; i + 1 < times.length; i++) {
    if (known[i] === 0) continue;
    for (past = 0; past < levels.length && values[i] > levels[past]; past++) replays[past].up(times[i]);
    settle();
    for (; known[i] !== 0; i++) {
      const x = values[i + 1];
      if (x > over && x <= upTo) continue;
      const at = (k: number): number =>
        interpolate(0, values[i] - levels[k], times[i], x - levels[k], times[i + 1]);
      for (; past < levels.length && x > levels[past]; past++) replays[past].up(at(past));
      for (; past > 0 && x <= levels[past - 1]; past--) replays[past - 1].down(at(past - 1));
      settle();
    }
    for (const one of replays) one.lose(times[i]);
  }
}

function replayReading(
  signal: Signal,
  episodes: readonly Interval[],
  doses: readonly ((at: number) => number)[],
  { limitsMmHg, delaysSeconds, resetSeconds }: TriedSettings,
): ReplayedReading {
  const [delays, count] = [delaysSeconds.length, episodes.length];
  const cells = limitsMmHg.length * delays;
  const alarms = new Uint32Array(cells);
  const sustained = new Uint32Array(cells);
  const noticedAt = new Float64Array(cells * count).fill(Number.NaN);
  const task = {
    delaysMs: delaysSeconds.map((seconds) => seconds * 1000),
    resetMs: resetSeconds * 1000,
    episodes,
  };
  const replays = limitsMmHg.map((_, k) => {
    const [from, to] = [k * delays, (k + 1) * delays];
    const counts: LimitCounts = {
      alarms: alarms.subarray(from, to),
      sustained: sustained.subarray(from, to),
      noticedAt: noticedAt.subarray(from * count, to * count),
    };
    return new LimitReplay(task, counts);
  });
  tellCrossings(signal, limitsMmHg, replays);
  const noticedMinutes = noticedAt.map((at, place) => (at - episodes[place % count].start) / MINUTE_MS);
  const doseMmHgHours = noticedAt.map((at, place) =>
    Number.isNaN(at) ? Number.NaN : doses[place % count](at),
  );
  return { alarms, sustained, noticedMinutes, doseMmHgHours };
}

/**
 * What each setting that is tried would have raised on the ICP of one patient, as exported and without what was removed,
 * held against the sustained episodes: the alarms of `replay`, and what of the episodes `caught` says they caught. Dose
 * before the notice is that of the cleaned signal in both readings, since what was removed is no burden.
 *
 * @param raw and `cleaned` in mmHg
 * @param episodes of the cleaned signal by the unit's rule, in time order
 * @param threshold of the unit's rule, mmHg, above which dose counts
 */
export function replayGrid(
  raw: Signal,
  cleaned: Signal,
  episodes: readonly Interval[],
  threshold: number,
  tried: TriedSettings,
): ReplayGrid {
  const doses = episodes.map((episode) => doseFrom(cleaned, episode, threshold));
  const { limitsMmHg, delaysSeconds, resetSeconds } = tried;
  return {
    limitsMmHg,
    delaysSeconds,
    resetSeconds,
    episodes: episodes.map(({ start, end }) => ({ start, end })),
    raw: replayReading(raw, episodes, doses, tried),
    cleaned: replayReading(cleaned, episodes, doses, tried),
  };
}
