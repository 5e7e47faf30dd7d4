import { Problem, shorten } from '../../recording/problem.js';
import type { TimeColumns } from '../columns/columns.js';
import { decimalsOf, parseDecimal } from '../rows/parse-number.js';
import type { TimeChoice } from '../settings.js';
import { calendarReader, splitTime, type TimeFault, type WrittenTime } from './calendar.js';
import type { TimePlan } from './time-plan.js';

const DAY_MS = 86_400_000;
/** 1970-01-01 as a spreadsheet counts days. */
const SPREADSHEET_1970 = 25_569;

/** The text of a row's time; date and time of day joined where they stand apart. */
export function timeText(cells: readonly string[], { index, date }: TimeColumns): string {
  const clock = cells[index]?.trim() ?? '';
  if (date === null) return clock;
  const [day, rest] = splitTime(cells[date]?.trim() ?? '');
  // A spreadsheet writes a day as its midnight.
  const isDay = rest === '' || /^0?0[:.]00(?:[:.]00)?(?:[.,]0+)?$/.test(rest);
  return isDay && day !== '' && clock !== '' ? `${day} ${clock}` : clock || day;
}

/** Reads one row's time: local digits, or an instant as an offset of 0. */
export type TimeReader = (text: string) => WrittenTime | TimeFault;

const instant = (utcMs: number): WrittenTime | TimeFault =>
  Math.abs(utcMs) < 8.64e15 ? { localMs: utcMs, offsetMs: 0 } : 'unreadable';

const number = (text: string): number => parseDecimal(text.replace(',', '.'));

/** A spreadsheet's day; with few decimals it means a whole second. */
function spreadsheetTime(text: string): WrittenTime | TimeFault {
  const days = number(text);
  if (!Number.isFinite(days) || days < 1 || days > 2_958_465) return 'unreadable';
  const step = decimalsOf(text.replace(',', '.')) <= 8 ? 1000 : 1;
  const localMs = Math.round(((days - SPREADSHEET_1970) * DAY_MS) / step) * step;
  return { localMs, offsetMs: null };
}

/**
 * Makes the reader of a file's times for one patient.
 *
 * @param startUtcMs the instant at which elapsed time is 0
 */
export function timeReader(plan: TimePlan, startUtcMs: number | null): TimeReader {
  switch (plan.form) {
    case 'calendar':
      return calendarReader(plan.order, plan.separator);
    case 'spreadsheetDays':
      return spreadsheetTime;
    case 'epochSeconds':
      return (text) => instant(Math.round(number(text) * 1e6) / 1000);
    case 'epochMilliseconds':
      return (text) => instant(number(text));
    case 'elapsed':
      return (text) =>
        instant(Math.round(((startUtcMs ?? Number.NaN) + number(text) * plan.unitMs) * 1e3) / 1e3);
  }
}

const FIX = {
  calendar: 'Times are expected as 2031-02-11 02:10:00, with or without an offset.',
  elapsed: 'A number is expected, as in the other rows.',
  spreadsheetDays: 'A number of days is expected, as in the other rows.',
  epochSeconds: 'Seconds since 1970 are expected, as in the other rows.',
  epochMilliseconds: 'Milliseconds since 1970 are expected, as in the other rows.',
} as const;

/** Why a time cannot be read, as a sentence; what to do about it. */
export function timeFault(fault: TimeFault, text: string, plan: TimePlan): { what: string; fix: string } {
  const shown = `"${shorten(text)}"`;
  if (text === '') return { what: 'the time is blank', fix: FIX[plan.form] };
  if (fault === 'noDate') {
    return {
      what: `${shown} is a time of day without a date`,
      fix: 'Export the date with it, or name the column of dates as columns: {time: {date: ...}}.',
    };
  }
  if (fault === 'noClock') return { what: `${shown} is a date without a time of day`, fix: FIX[plan.form] };
  if (fault === 'noSuchTime')
    return { what: `${shown} is no time that the calendar has`, fix: FIX[plan.form] };
  return { what: `${shown} is no time that can be read`, fix: FIX[plan.form] };
}

/** Times that are followed by others, which would read as offsets. */
export const fromTo = (shown: string, column: string): Problem =>
  new Problem(
    `${shown} ends in no offset of a clock; it looks like a time from and to`,
    'Export the beginning of each interval alone.',
    { column },
  );

/** A fault that puts the whole column in doubt; null where only the row is. */
export function columnFault(fault: TimeFault, text: string, plan: TimePlan, column: string): Problem | null {
  const shown = `"${shorten(text)}"`;
  if (fault === 'twoDigitYear') {
    return new Problem(
      `the year in ${shown} has two digits, so it may be a day or a month as well`,
      'Export the dates with four-digit years.',
      { column },
    );
  }
  if (fault === 'oddOffset') return fromTo(shown, column);
  if (fault === 'orderUnknown' || fault === 'otherWay') {
    return new Problem(
      `${shown} is written another way than the other dates (${plan.why}), and nothing says which number is the day`,
      'Two ways of writing dates are mixed: split the file, or say columns: {time: {order: ...}}.',
      { column },
    );
  }
  if (fault === 'otherOrder') {
    const said = plan.order === 'monthFirst' ? 'month' : 'day';
    return new Problem(
      `${shown} does not have the ${said} first, as the other dates do (${plan.why})`,
      'Two ways of writing dates are mixed: split the file, or look at columns: {time: {order: ...}}.',
      { column },
    );
  }
  return null;
}

/** Start of elapsed time as the pipeline file gives it for a patient; undefined where it gives none. */
export const chosenStart = ({ start }: TimeChoice, patient: string): string | undefined =>
  typeof start === 'string' ? start : start?.[patient];
