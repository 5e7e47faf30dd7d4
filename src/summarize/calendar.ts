import type { Interval } from '../recording/interval.js';
import type { ZoneClock } from '../recording/zone.js';
import { HOUR_MS } from './hour.js';

const DAY_MS = 86_400_000;

/** A night by the clock on the wall, minutes after midnight; `to` may be on the next day. */
export interface NightTimes {
  readonly fromMinutes: number;
  readonly toMinutes: number;
}

/** The instant of a local time; where the clock skips it, the instant at which it goes on. */
function instant(localMs: number, clock: ZoneClock): number {
  return clock.toUtc(localMs)[0] ?? localMs - clock.offsetMsAt(localMs - DAY_MS);
}

/** All nights that share time with the extent, in order. */
export function nightsIn(
  extent: Interval,
  { fromMinutes, toMinutes }: NightTimes,
  clock: ZoneClock,
): Interval[] {
  const nights: Interval[] = [];
  const firstDay = Math.floor(clock.toLocal(extent.start) / DAY_MS) - 1;
  const lastDay = Math.floor(clock.toLocal(extent.end) / DAY_MS);
  for (let day = firstDay; day <= lastDay; day++) {
    const start = instant(day * DAY_MS + fromMinutes * 60_000, clock);
    const endDay = toMinutes <= fromMinutes ? day + 1 : day;
    const end = instant(endDay * DAY_MS + toMinutes * 60_000, clock);
    if (start < extent.end && extent.start < end) nights.push({ start, end });
  }
  return nights;
}

/** The days of the calendar that fill the window; the first and the last may be cut. */
export function daysIn(window: Interval, clock: ZoneClock): Interval[] {
  const days: Interval[] = [];
  for (let start = window.start; start < window.end; ) {
    const next = instant((Math.floor(clock.toLocal(start) / DAY_MS) + 1) * DAY_MS, clock);
    days.push({ start, end: Math.min(next, window.end) });
    start = next;
  }
  return days;
}

/** The weeks from Monday on (ISO 8601) that fill the window; the first and the last may be cut. */
export const weeksIn = (window: Interval, clock: ZoneClock): Interval[] =>
  // 1 January 1970 was a Thursday.
  partsIn(window, clock, (day) => day - ((day + 3) % 7) + 7);

/** The months of the calendar that fill the window; the first and the last may be cut. */
export const monthsIn = (window: Interval, clock: ZoneClock): Interval[] =>
  partsIn(window, clock, (day) => {
    const date = new Date(day * DAY_MS);
    return Date.UTC(date.getUTCFullYear(), date.getUTCMonth() + 1) / DAY_MS;
  });

/**
 * Parts of the calendar that fill the window.
 *
 * @param nextAfter the first day of the next part after a day, both days since 1 January 1970
 */
function partsIn(window: Interval, clock: ZoneClock, nextAfter: (day: number) => number): Interval[] {
  const parts: Interval[] = [];
  for (let start = window.start; start < window.end; ) {
    const next = instant(nextAfter(Math.floor(clock.toLocal(start) / DAY_MS)) * DAY_MS, clock);
    parts.push({ start, end: Math.min(next, window.end) });
    start = next;
  }
  return parts;
}

/** The hours of the clock on the wall that fill the window; the first and the last may be cut. */
export function hoursIn(window: Interval, clock: ZoneClock): Interval[] {
  const hours: Interval[] = [];
  for (let start = window.start; start < window.end; ) {
    const offset = clock.offsetMsAt(start);
    const next = (Math.floor((start + offset) / HOUR_MS) + 1) * HOUR_MS - offset;
    hours.push({ start, end: Math.min(next, window.end) });
    start = next;
  }
  return hours;
}
