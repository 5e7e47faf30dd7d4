import type { DateOrder } from '../settings.js';
import { monthNamed } from './month-names.js';

/** A time as a cell writes it. */
export interface WrittenTime {
  /** Wall-clock digits as the milliseconds at which UTC shows the same. */
  readonly localMs: number;
  /** Local time minus UTC in milliseconds, where the cell says so. */
  readonly offsetMs: number | null;
}

/**
 * Why a text is no time. `otherOrder`: it is one only with day and month the other way round; `orderUnknown`: nothing
 * says which of two numbers is the day; `otherWay`: its numbers are parted otherwise than those that settled the order;
 * `oddOffset`: what stands behind it is no offset that a clock on earth has.
 */
export type TimeFault =
  | 'unreadable'
  | 'noSuchTime'
  | 'noDate'
  | 'noClock'
  | 'twoDigitYear'
  | 'otherOrder'
  | 'otherWay'
  | 'oddOffset'
  | 'orderUnknown';

const DAY_MS = 86_400_000;

/** Midnight of a calendar day, NaN where the calendar has no such day. */
export function midnight(year: number, month: number, day: number): number {
  const ms = Date.UTC(year, month - 1, day);
  const date = new Date(ms);
  // Date.UTC takes the years 0 to 99 for 1900 to 1999.
  const same =
    date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  return same ? ms : Number.NaN;
}

const YEAR_FIRST = /^(\d{4})([-/.])(\d{1,2})\2(\d{1,2})$/;
const COMPACT = /^(\d{4})(\d{2})(\d{2})$/;
const YEAR_LAST = /^(\d{1,2})([-/.])(\d{1,2})\2(\d{4})$/;
const DAY_MONTH_NAME = /^(\d{1,2})(?:\.? |[-/.])(\p{L}+\.?)(?:,? |[-/.])(\d{4})$/u;
const MONTH_NAME_DAY = /^(\p{L}+\.?) (\d{1,2}),? (\d{4})$/u;
const TWO_DIGIT_YEAR = /^\d{1,2}(?:([-/.])\d{1,2}\1|[-/. ]\p{L}+[-/. ])\d{2}$/u;
const WEEKDAY = /^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,? /i;

/** The two numbers of a date whose year stands last; null for any other text. */
export function dayAndMonth(date: string): [first: number, second: number] | null {
  const match = YEAR_LAST.exec(date.replace(WEEKDAY, ''));
  return match ? [Number(match[1]), Number(match[3])] : null;
}

/** Midnight of a date as a cell writes it, or why there is none. */
export function parseDate(
  written: string,
  order: DateOrder | null,
  separator: string | null = null,
): number | TimeFault {
  const text = written.replace(WEEKDAY, '');
  const real = (year: string, month: number, day: string): number | TimeFault => {
    const ms = midnight(Number(year), month, Number(day));
    return Number.isNaN(ms) ? 'noSuchTime' : ms;
  };
  const first = YEAR_FIRST.exec(text);
  if (first) return real(first[1], Number(first[3]), first[4]);
  const last = YEAR_LAST.exec(text);
  if (last) {
    const [, a, parted, b, year] = last;
    if (separator !== null && parted !== separator && a !== b) return 'otherWay';
    // 11/11 is the same day either way.
    if (order === null && a !== b) return 'orderUnknown';
    const [day, month] = order === 'monthFirst' ? [b, a] : [a, b];
    const ms = midnight(Number(year), Number(month), Number(day));
    if (!Number.isNaN(ms)) return ms;
    return Number.isNaN(midnight(Number(year), Number(day), Number(month))) ? 'noSuchTime' : 'otherOrder';
  }
  const compact = COMPACT.exec(text);
  if (compact) return real(compact[1], Number(compact[2]), compact[3]);
  const named = DAY_MONTH_NAME.exec(text);
  if (named) {
    const month = monthNamed(named[2]);
    return month === null ? 'unreadable' : real(named[3], month, named[1]);
  }
  const american = MONTH_NAME_DAY.exec(text);
  if (american) {
    const month = monthNamed(american[1]);
    return month === null ? 'unreadable' : real(american[3], month, american[2]);
  }
  return TWO_DIGIT_YEAR.test(text) ? 'twoDigitYear' : 'unreadable';
}

const CLOCK =
  /^(\d{1,2})([:.])(\d{2})(?:\2(\d{2})(?:[.,](\d{1,9})|:(\d{3}))?)?(?: ?([ap])\.? ?m\.?)? ?(Z|(?:UTC|GMT)?(?:[+-](?:[01]?\d|2[0-3])(?::?[0-5]\d)?)?)$/i;

function offsetOf(text: string): number | null {
  if (text === '') return null;
  const match = /([+-])(\d{1,2}):?(\d{2})?$/.exec(text);
  if (!match) return 0;
  const minutes = Number(match[2]) * 60 + Number(match[3] ?? 0);
  return (match[1] === '-' ? -minutes : minutes) * 60_000;
}

/** Clocks are set from 12 hours behind UTC to 14 ahead, in quarters of an hour. */
const isOffset = (ms: number | null): boolean =>
  ms === null || (ms >= -12 * 3_600_000 && ms <= 14 * 3_600_000 && ms % (15 * 60_000) === 0);

/** Milliseconds since midnight; 24:00 is the end of the day. */
export function parseClock(text: string): { ms: number; offsetMs: number | null } | TimeFault {
  const match = CLOCK.exec(text);
  if (!match) return 'unreadable';
  const [, hours, , minutes, seconds = '0', behindPoint, behindColon, half, zone] = match;
  let hour = Number(hours);
  if (half) {
    if (hour < 1 || hour > 12) return 'noSuchTime';
    hour = (hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
  }
  const fraction = Number(`0.${behindPoint ?? behindColon ?? 0}`) * 1000;
  const ms = ((hour * 60 + Number(minutes)) * 60 + Number(seconds)) * 1000 + fraction;
  const isTime = Number(minutes) < 60 && Number(seconds) < 60 && ms <= DAY_MS;
  if (!isTime) return 'noSuchTime';
  const offsetMs = offsetOf(zone);
  return isOffset(offsetMs) ? { ms, offsetMs } : 'oddOffset';
}

/** Date and time of day apart, as one text; either may be blank. */
export function splitTime(text: string): [date: string, clock: string] {
  const compact = /^(\d{8})[T ]?(\d{2})(\d{2})(\d{2})?((?:[.,]\d{1,9})?)(Z?)$/.exec(text);
  if (compact) {
    const [, date, hour, minute, second = '00', fraction, zone] = compact;
    return [date, `${hour}:${minute}:${second}${fraction}${zone}`];
  }
  const dateFirst = /^(.+?)(?:(?<=\d)[T_]|,? +)(\d{1,2}[:.]\d{2}(?!\d*[.]\d{4}).*)$/.exec(text);
  if (dateFirst) return [dateFirst[1], dateFirst[2]];
  const clockFirst = /^(\d{1,2}:\d{2}(?::\d{2})?(?: ?[ap]m)?),? +(.+)$/i.exec(text);
  if (clockFirst) return [clockFirst[2], clockFirst[1]];
  return /^\d{1,2}:\d{2}/.test(text) ? ['', text] : [text, ''];
}

function parse(
  text: string,
  order: DateOrder | null,
  separator: string | null = null,
): WrittenTime | TimeFault {
  const [date, clock] = splitTime(text.replace(/[\s\u202f]+/g, ' '));
  if (date === '') return 'noDate';
  const dayMs = parseDate(date, order, separator);
  if (clock === '') return typeof dayMs === 'string' ? dayMs : 'noClock';
  const time = parseClock(clock);
  if (typeof dayMs === 'string') return dayMs;
  if (typeof time === 'string') return time;
  return { localMs: dayMs + time.ms, offsetMs: time.offsetMs };
}

const digit = (text: string, i: number): number => text.charCodeAt(i) - 48;
const pair = (text: string, i: number): number => digit(text, i) * 10 + digit(text, i + 1);

/** Ten characters of date with digits at the ends, a separator, and a clock. */
export const PLAIN_CALENDAR_TIME = /^\d[\d./-]{8}\d[T ]\d{2}:\d{2}:\d{2}(?:\.\d{1,6})?$/;

/**
 * Makes a reader of calendar times: ISO 8601 and its relatives (`2031-02-11 02:10:00`, with `T`, fractions, `Z` or an
 * offset), dates with the year last, month names, a clock of 12 hours, 24:00. The reader remembers the last day, since
 * neighbouring rows share it.
 *
 * @param order which number of a date such as 03/04/2031 is the day; null where nothing says it
 * @param separator what parts the numbers of such dates, where that matters
 */
export function calendarReader(
  order: DateOrder | null = null,
  separator: string | null = null,
): (text: string) => WrittenTime | TimeFault {
  let day = '';
  let dayMs = 0;
  return (text) => {
    if (!PLAIN_CALENDAR_TIME.test(text)) return parse(text, order, separator);
    if (!text.startsWith(day) || day === '') {
      const parsed = parse(text, order, separator);
      if (typeof parsed === 'string') return parsed;
      day = text.slice(0, 10);
      dayMs = Math.floor(parsed.localMs / DAY_MS) * DAY_MS;
      // 24:00 belongs to the day before.
      if (text.startsWith('24', 11)) day = '';
      return parsed;
    }
    const hour = pair(text, 11);
    const minute = pair(text, 14);
    const second = pair(text, 17);
    if (hour > 23 || minute > 59 || second > 59) return parse(text, order, separator);
    const fraction = text.length > 19 ? Number(`0${text.slice(19)}`) * 1000 : 0;
    return { localMs: dayMs + ((hour * 60 + minute) * 60 + second) * 1000 + fraction, offsetMs: null };
  };
}

/** A text of ISO 8601 as the pipeline file may hold it; null where it is none. */
export function isoTime(text: string): WrittenTime | null {
  if (!/^\d{4}-\d{2}-\d{2}[T ]/.test(text)) return null;
  const read = parse(text, null);
  return typeof read === 'string' ? null : read;
}
