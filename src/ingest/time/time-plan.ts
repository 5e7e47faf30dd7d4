import { Problem } from '../../recording/problem.js';
import type { TimeColumns } from '../columns/columns.js';
import { millisecondsOf } from '../columns/layout-words.js';
import { decimalsOf } from '../rows/parse-number.js';
import type { DateOrder, TimeChoice, TimeForm } from '../settings.js';
import { calendarReader, dayAndMonth, splitTime } from './calendar.js';

/** How a file's times are to be read. */
export interface TimePlan {
  readonly form: TimeForm;
  /** For calendar times with the year last. */
  readonly order: DateOrder | null;
  /** True where dates have the year last and nothing yet says which number is the day. */
  readonly needsWholeColumn: boolean;
  /** What stands between the numbers of such dates, where a row of the column settled their order. */
  readonly separator: string | null;
  /** For elapsed time. */
  readonly unitMs: number;
  /** What decided, in plain words. */
  readonly why: string;
}

/** Where the start of elapsed time stands. */
export type StartFrom = 'the pipeline file' | 'the lines above the header' | null;

const FORM_WORDS: Readonly<Record<TimeForm, string>> = {
  calendar: 'calendar times',
  elapsed: 'time since the start',
  spreadsheetDays: 'days as a spreadsheet counts them',
  epochSeconds: 'seconds since 1970',
  epochMilliseconds: 'milliseconds since 1970',
};

/** How the times were read, in words. */
export const formWords = (form: TimeForm): string => FORM_WORDS[form];

const NUMBER = /^[+-]?\d+(?:[.,]\d+)?$/;
/** Digits that are a date and a time: 20310211021000 and shorter. */
const COMPACT_DIGITS = /^(?:19|20)\d{10}(?:\d\d)?$/;

const EPOCH_2000_S = 946_684_800;
const EPOCH_2100_S = 4_102_444_800;
/** Spreadsheets count days from the end of 1899; 2000 to 2100 lie between these. */
const SPREADSHEET_2000 = 36_526;
const SPREADSHEET_2100 = 73_051;

const plan = (form: TimeForm, why: string, more: Partial<TimePlan> = {}): TimePlan => ({
  form,
  order: null,
  needsWholeColumn: false,
  separator: null,
  unitMs: 1000,
  why,
  ...more,
});

const askForm = (what: string, column: string): Problem =>
  new Problem(
    what,
    'Say what they are in the pipeline file: columns: {time: {form: elapsed, unit: s, start: "2031-02-11 19:00"}}, or form: spreadsheetDays, epochSeconds or epochMilliseconds.',
    { column },
  );

function numericPlan(
  samples: readonly string[],
  { unitMs }: TimeColumns,
  startFrom: StartFrom,
  header: string,
): TimePlan {
  const fromWhere = startFrom === null ? '' : `; the start is from ${startFrom}`;
  const numbers = samples.map((text) => Number(text.replace(',', '.')));
  const within = (low: number, high: number): boolean => numbers.every((n) => n >= low && n < high);
  if (within(EPOCH_2000_S, EPOCH_2100_S) && unitMs !== 1) return plan('epochSeconds', 'by their size');
  if (within(EPOCH_2000_S * 1000, EPOCH_2100_S * 1000)) return plan('epochMilliseconds', 'by their size');
  if (unitMs !== null) return plan('elapsed', `by the header${fromWhere}`, { unitMs });
  const isFine = samples.some((text) => decimalsOf(text.replace(',', '.')) >= 4);
  const maybeSpreadsheet = within(SPREADSHEET_2000, SPREADSHEET_2100) && isFine;
  if (maybeSpreadsheet && startFrom === null) return plan('spreadsheetDays', 'by their size');
  if (maybeSpreadsheet) {
    throw askForm(
      `the times can be read two ways: "${samples[0]}" as days of a spreadsheet or as seconds since the start`,
      header,
    );
  }
  throw askForm(`the times are plain numbers ("${samples[0]}"), and nothing says of what`, header);
}

/** How dates without the year last are written. */
function calendarWords(samples: readonly string[]): string {
  const read = calendarReader(null);
  const faults = new Set(samples.map(read).filter((time) => typeof time === 'string'));
  if (faults.has('twoDigitYear')) return 'the year of two digits';
  if (faults.has('noDate')) return 'without a date';
  return samples.some((text) => /\p{L}{3,}/u.test(splitTime(text)[0])) ? 'months by name' : 'year first';
}

/**
 * Decides how the times of a file are written, from the pipeline file, the header and the first rows.
 *
 * @param samples time cells of the first rows, blank ones left out
 * @throws Problem where they can be read in more than one way
 */
export function planTimes(
  samples: readonly string[],
  columns: TimeColumns,
  choice: TimeChoice,
  startFrom: StartFrom,
  header: string,
): TimePlan {
  const saidOrder = choice.order ?? columns.order;
  const chosenUnit = millisecondsOf(choice.unit ?? null) ?? columns.unitMs ?? 1000;
  if (choice.form !== undefined && choice.form !== 'calendar') {
    return plan(choice.form, 'as the pipeline file says', { unitMs: chosenUnit });
  }
  const numeric = samples.filter((text) => NUMBER.test(text) && !COMPACT_DIGITS.test(text));
  // One cell that went wrong among the first does not make dates of numbers.
  const isNumeric = 2 * numeric.length > samples.length;
  if (isNumeric && choice.form === undefined) return numericPlan(numeric, columns, startFrom, header);
  const hasYearLast = samples.some((text) => dayAndMonth(splitTime(text)[0]) !== null);
  if (!hasYearLast) return plan('calendar', calendarWords(samples), { order: saidOrder });
  if (saidOrder !== null) {
    const who = choice.order ? 'the pipeline file' : 'the header';
    return plan('calendar', `${saidOrder === 'dayFirst' ? 'day' : 'month'} first, as ${who} says`, {
      order: saidOrder,
    });
  }
  return plan('calendar', 'and nothing settles which number is the day', { needsWholeColumn: true });
}

/** Times that a number of few decimals shows no better than this are told of, milliseconds. */
const COARSE_MS = 500;

/** What somebody should know of times that are written as numbers with few decimals. */
export function coarseTimes(samples: readonly string[], { form, unitMs }: TimePlan): string[] {
  if (form !== 'spreadsheetDays' && form !== 'elapsed') return [];
  const unit = form === 'spreadsheetDays' ? 86_400_000 : unitMs;
  const decimals = Math.max(...samples.map((text) => decimalsOf(text.replace(',', '.'))), 0);
  const step = unit / 10 ** decimals;
  // Whole seconds, minutes or milliseconds may be meant as they stand.
  if (decimals === 0 || step < COARSE_MS || (form === 'elapsed' && unitMs <= 1000)) return [];
  return [
    `the times have ${decimals} decimals, so they are good to ${Number((step / 1000).toPrecision(2))} s and no better.`,
  ];
}
