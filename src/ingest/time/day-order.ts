import { Problem, shorten } from '../../recording/problem.js';
import type { DateOrder } from '../settings.js';
import { calendarReader, dayAndMonth, splitTime } from './calendar.js';

const MONTHS = 'January February March April May June July August September October November December'.split(
  ' ',
);

/** A local time in words that cannot be mistaken: `3 April 2031 19:00:00`. */
export function inWords(localMs: number): string {
  const date = new Date(localMs);
  const clock = date.toISOString().slice(11, 19);
  return `${date.getUTCDate()} ${MONTHS[date.getUTCMonth()]} ${date.getUTCFullYear()} ${clock}`;
}

/**
 * Looks through a column of dates such as 03/04/2031 for one that settles which number is the day: one over 12. Where
 * none does, nothing is guessed.
 */
export class DayOrderSurvey {
  /** The order that a row settles, with its line. */
  settled: { readonly order: DateOrder; readonly line: number; readonly text: string } | null = null;
  private first: { text: string; line: number } | null = null;
  private last: { text: string; line: number } | null = null;
  /** What stands between the numbers. */
  separator = '';
  private lastDate = '';
  /** True while all dates are such as 11/11/2031. */
  isSameEitherWay = true;

  /** Takes a cell; true once the order is settled. */
  add(text: string, line: number): boolean {
    const [date] = splitTime(text);
    this.last = { text, line };
    this.first ??= this.last;
    if (date === this.lastDate) return this.settled !== null;
    this.lastDate = date;
    const numbers = dayAndMonth(date);
    if (!numbers) return this.settled !== null;
    const separator = /[-/.]/.exec(date)?.[0] ?? '';
    this.separator ||= separator;
    if (separator !== this.separator) {
      throw new Problem(
        `dates are written with "${this.separator}" and here with "${separator}", which may not mean the same order of day and month`,
        'Two ways of writing dates are mixed: split the file, or say columns: {time: {order: ...}}.',
        { line },
      );
    }
    if (numbers[0] !== numbers[1]) this.isSameEitherWay = false;
    const order = numbers[0] > 12 ? 'dayFirst' : numbers[1] > 12 ? 'monthFirst' : null;
    // A date that the calendar lacks settles nothing.
    const read = order === null ? 'unreadable' : calendarReader(order)(text);
    const isReal = typeof read !== 'string' || read === 'noClock';
    if (isReal && order !== null && this.settled === null) this.settled = { order, line, text };
    return this.settled !== null;
  }

  /** What to say where no row settles it: both readings, and how to choose. */
  unsettled(column: string): Problem {
    const { first, last } = this;
    const reading = (order: DateOrder): string =>
      [first, last]
        .map((cell) => {
          const time = calendarReader(order)(cell?.text ?? '');
          return typeof time === 'string' ? 'a time that cannot be read' : inWords(time.localMs);
        })
        .join(' to ');
    return new Problem(
      `the dates can be read two ways, and no row settles it: "${shorten(first?.text ?? '')}" (line ${first?.line}) to "${shorten(last?.text ?? '')}" (line ${last?.line}) is ${reading('dayFirst')} with the day first, and ${reading('monthFirst')} with the month first`,
      'Say which in the pipeline file, as columns: {time: {order: dayFirst}} or {order: monthFirst}.',
      { column },
    );
  }
}
