import { Problem, shorten } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import { type DateOrder, type IngestSettings, timeChoice } from '../settings.js';
import type { CsvRecord } from '../text/parse-records.js';
import { calendarReader, type WrittenTime } from './calendar.js';

const START =
  /^(?:(?:recording|measurement|monitoring|export|data)[ _-]?)?(?:start(?:ed)?|begin|began|from)(?:[ _-]?(?:time|date|at|on))*\s*[:=]?\s*(.*)$/i;

/** True where a line's first words say that a start stands behind them. */
export const saysStart = (text: string): boolean => START.exec(text)?.[1] === '';

/** A start as it is written; null where it is none, or can be read in two ways and nothing says which. */
function readStart(text: string, order: DateOrder | undefined): WrittenTime | null {
  const orders: readonly (DateOrder | null)[] = order ? [order] : [null, 'dayFirst', 'monthFirst'];
  const times = orders.map((one) => calendarReader(one)(text)).filter((time) => typeof time !== 'string');
  const isOne = times.every(({ localMs }) => localMs === times[0].localMs);
  return times.length > 0 && isOne ? times[0] : null;
}

/** The start of the recording as lines above the header give it, such as `Start: 2031-02-11 19:00`; null where none does. */
export function startInPreamble(preamble: readonly CsvRecord[], settings: IngestSettings): string | null {
  const { order } = timeChoice(settings.columns);
  for (const { cells } of preamble) {
    const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== '');
    const match = START.exec(filled[0] ?? '');
    if (!match) continue;
    for (const text of [match[1], ...filled.slice(1), filled.slice(1).join(' ')]) {
      if (readStart(text, order)) return text;
    }
  }
  return null;
}

/**
 * The instant at which elapsed time is 0.
 *
 * @param text local time, or time with an offset
 * @param warnings told where the clock showed the time twice
 * @throws Problem where none is given, it cannot be read, or the clock never showed it
 */
export function startOf(
  text: string | null | undefined,
  patient: string,
  clock: ZoneClock,
  order: DateOrder | undefined,
  warnings: string[],
): number {
  if (text === null || text === undefined) {
    throw new Problem(
      `the times count from a start that nothing names for patient "${shorten(patient)}"`,
      'Give it in the pipeline file, as columns: {time: {start: "2031-02-11 19:00"}}, or by patient, as {start: {"7": "2031-02-11 19:00"}}.',
    );
  }
  const time = readStart(text, order);
  if (time && time.offsetMs !== null) return time.localMs - time.offsetMs;
  const [first, second] = time ? clock.toUtc(time.localMs) : [];
  if (second !== undefined) {
    warnings.push(
      `the start ${shorten(text)} came twice that night, since the clocks went back; it was taken for the first. Give it with its offset.`,
    );
  }
  if (first !== undefined) return first;
  throw new Problem(
    time
      ? `the start "${shorten(text)}" does not exist in ${clock.zone}: the clocks went forward over it`
      : `"${shorten(text)}" is no start that can be read`,
    'Write it as columns: {time: {start: "2031-02-11 19:00"}}.',
  );
}
