import { Problem, shorten } from '../../recording/problem.js';
import { millisecondsOf, offsetIn, orderIn } from '../columns/layout-words.js';
import type { DateOrder } from '../settings.js';
import type { CsvRecord } from '../text/parse-records.js';
import { parseClock, parseDate, splitTime } from '../time/calendar.js';
import { DayOrderSurvey, inWords } from '../time/day-order.js';
import { timeText } from '../time/time-cell.js';
import { planTimes, type TimePlan } from '../time/time-plan.js';
import { problemForKey } from './cell-fault.js';
import type { FoundColumn } from './name-columns.js';
import { choiceOf, type TableSettings } from './table-settings.js';

/** So many cells decide how the times of a column are written, as in exports. */
const SAMPLE_CELLS = 400;

/** How the times of one column of a table are read. */
export interface TimeColumnPlan {
  readonly plan: TimePlan;
  /** Local time minus UTC in milliseconds where the header says it. */
  readonly offsetMs: number | null;
  /** The text of a row's time. */
  readonly textOf: (cells: readonly string[]) => string;
  /** True where a column of dates beside it is not needed. */
  readonly sparesDate: boolean;
}

interface DatedCell {
  readonly text: string;
  readonly line: number;
}

/** A local day: `3 April 2031`. */
export const dayInWords = (localMs: number): string => inWords(localMs).replace(/ [\d:.]+$/, '');

function cellInWords(text: string, order: DateOrder): string {
  const [date, clock] = splitTime(text);
  const dayMs = parseDate(date, order);
  if (typeof dayMs === 'string') return 'a time that cannot be read';
  const time = clock === '' ? null : parseClock(clock);
  if (time === null || typeof time === 'string') return dayInWords(dayMs);
  return inWords(dayMs + time.ms);
}

/** What to say where no row settles day and month: both readings, and how to choose. */
function unsettled(first: DatedCell, last: DatedCell, { key, header }: FoundColumn): Problem {
  const isOne = first.line === last.line;
  const from = (one: string, other: string): string => (isOne ? one : `${one} to ${other}`);
  const reading = (order: DateOrder): string =>
    from(cellInWords(first.text, order), cellInWords(last.text, order));
  const shown = ({ text, line }: DatedCell): string => `"${shorten(text)}" (line ${line})`;
  return new Problem(
    `the ${isOne ? 'date' : 'dates'} can be read two ways, and no ${isOne ? 'other ' : ''}row settles it: ${from(shown(first), shown(last))} is ${reading('dayFirst')} with the day first, and ${reading('monthFirst')} with the month first`,
    `Say which in the pipeline file, as columns: {${key}: {order: dayFirst}} or {order: monthFirst}.`,
    { column: header },
  );
}

/** Settles day and month on the column as a whole, and on no other one. */
function settle(plan: TimePlan, cells: readonly DatedCell[], column: FoundColumn): TimePlan {
  const survey = new DayOrderSurvey();
  for (const { text, line } of cells) if (survey.add(text, line)) break;
  const { settled } = survey;
  if (settled) {
    const first = settled.order === 'dayFirst' ? 'day' : 'month';
    const why = `${first} first, since line ${settled.line} holds ${settled.text}`;
    return { ...plan, order: settled.order, needsWholeColumn: false, why };
  }
  if (survey.isSameEitherWay) return { ...plan, needsWholeColumn: false, why: 'the same either way' };
  throw unsettled(cells[0], cells[cells.length - 1], column);
}

/**
 * Decides how the times of a column are written.
 *
 * @param records rows with as many cells as the header
 * @param isTime tells cells that hold a time from blanks and other words
 * @throws Problem where they can be read in more than one way, or count from a start
 */
export function planTimeColumn(
  column: FoundColumn,
  records: readonly CsvRecord[],
  headers: readonly string[],
  unitsRow: readonly string[] | null,
  settings: TableSettings,
  isTime: (text: string) => boolean,
): TimeColumnPlan {
  const { index, key, header, unit, unitBelow } = column;
  const { order = settings.order, form } = choiceOf(settings, key);
  const own = records.map(({ cells }) => cells[index].trim()).find(isTime);
  const sparesDate = column.date !== null && own !== undefined && splitTime(own).every((part) => part !== '');
  const date = sparesDate ? null : column.date;
  const stated = [index, date].flatMap((i) => (i === null ? [] : [headers[i], unitsRow?.[i] ?? '']));
  const columns = {
    index,
    date,
    offsetMs: offsetIn(header),
    unitMs: millisecondsOf(unit ?? unitBelow),
    order: stated.map(orderIn).find((found) => found !== null) ?? null,
  };
  const textOf = (cells: readonly string[]): string => timeText(cells, columns);
  const filled = records
    .map(({ cells, line }) => ({ text: textOf(cells), line }))
    .filter(({ text }) => isTime(text) && /\d/.test(text));
  const samples = filled.slice(0, SAMPLE_CELLS).map(({ text }) => text);
  const plan = planned(() => planTimes(samples, columns, { order, form }, null, header), column);
  const settledPlan = plan.needsWholeColumn ? settle(plan, filled, column) : plan;
  return { plan: settledPlan, offsetMs: columns.offsetMs, textOf, sparesDate };
}

/** Runs `planTimes`; a table has no start from which times could count. */
function planned(work: () => TimePlan, { key, header, spec }: FoundColumn): TimePlan {
  const months =
    spec.type === 'dateOrMonths'
      ? `Where they are months after the injury, write that into the header, as "${shorten(header)} (months)". Else say`
      : 'Say';
  const fix = `${months} what they are in the pipeline file, as columns: {${key}: {form: spreadsheetDays}}, or form: epochSeconds or epochMilliseconds.`;
  try {
    const plan = work();
    if (plan.form !== 'elapsed') return plan;
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    const problem = problemForKey(error, key);
    throw new Problem(problem.what, fix, problem.where);
  }
  throw new Problem(
    'the times count from a start, and a table needs the date and the time of day',
    'Export it with dates.',
    { column: header },
  );
}
