import { type Interval, overlaps } from '../recording/interval.js';
import { shorten } from '../recording/problem.js';
import type { ZoneClock } from '../recording/zone.js';
import type { Bedside, BedsideAlarm } from './bedside.js';
import { episodeStripWindow } from './charts/episode-window.js';
import type { RecordingResult } from './results-schema.js';

/** So much to both sides of the period stands in results.json too: what led to its first hour, and what came of its last. */
const AROUND_MS = 30 * 60_000;

interface Happened {
  readonly start: number;
  readonly end: number | null;
}

/** From its onset to the last that the log tells of an alarm: a signal may be over before anybody acknowledges it. */
const toldOf = ({ start, end, acknowledged }: BedsideAlarm): Interval => ({
  start,
  end: Math.max(start, end ?? start, acknowledged ?? start),
});

/**
 * The part of what logs say that a page may show, as results.json has it: what shares time with the period and the half
 * hours around it, or with the strip of an episode, which may have begun long before.
 */
export function bedsideResult(
  { alarms, entries, drainOpen }: Bedside,
  { period, episodes }: { readonly period: Interval; readonly episodes: readonly Interval[] },
  clock: ZoneClock,
): RecordingResult['bedside'] {
  const around = { start: period.start - AROUND_MS, end: period.end + AROUND_MS };
  const windows = [around, ...episodes.map(episodeStripWindow)];
  const isNear = (told: Interval): boolean => windows.some((window) => overlaps(told, window));
  const local = (time: number | null): string | null => (time === null ? null : clock.format(time));
  const times = ({ start, end }: Happened) => ({ start: clock.format(start), end: local(end) });
  return {
    alarms:
      alarms
        ?.filter((alarm) => isNear(toldOf(alarm)))
        .map((alarm) => ({
          ...times(alarm),
          acknowledged: local(alarm.acknowledged),
          text: shorten(alarm.text),
        })) ?? null,
    entries:
      entries
        ?.filter(({ start, end }) => isNear({ start, end: end ?? start }))
        .map((entry) => ({
          ...times(entry),
          isTreatment: entry.isTreatment,
          text: shorten(entry.text),
        })) ?? null,
    drainOpen: drainOpen
      .filter(isNear)
      .map(({ start, end, isClosed }) => times({ start, end: isClosed ? end : null })),
  };
}
