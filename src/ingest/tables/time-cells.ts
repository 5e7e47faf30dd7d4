import { shorten } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import { parseClock, parseDate, splitTime, type WrittenTime } from '../time/calendar.js';
import { columnFault, timeFault, timeReader } from '../time/time-cell.js';
import { CellFault, forKey, problemForKey } from './cell-fault.js';
import type { Moment } from './describe.js';
import type { FoundColumn } from './name-columns.js';
import { dayInWords, type TimeColumnPlan } from './time-column.js';

const DAY_MS = 86_400_000;
const HOUR_MS = 3_600_000;
/** Common practice, no source: an alarm or a procedure is over within it, so a time of day names one day only. */
const LONGEST_WITHOUT_DATE_MS = 12 * HOUR_MS;

/** Takes note of something that somebody should know, by row. */
export type Note = (line: number, text: string) => void;

/** Another time of the row, which this one follows. */
export interface Reference {
  readonly moment: Moment;
  readonly header: string;
  readonly text: string;
}

const momentAt = (utcMs: number): Moment => ({ utcMs, endUtcMs: utcMs, isDay: false });

/** A day without a time of day among seconds since 1970: the seconds between which it lies, as de-identified sets have it. */
const BETWEEN = /^between (-?\d{1,12}) and (-?\d{1,12})$/;

/** Null where a cell gives no such seconds, or not the earlier ones first. */
function between(text: string): Moment | null {
  const [, from, to] = BETWEEN.exec(text) ?? [];
  const [utcMs, endUtcMs] = [Number(from) * 1000, Number(to) * 1000];
  return utcMs < endUtcMs ? { utcMs, endUtcMs, isDay: true } : null;
}

const SKIPPED_FIX =
  'Look at timezone in the pipeline file; a clock that is not changed needs a zone such as Etc/GMT-1.';

/** Reads the times of one column; rows of a table are in no order that could help. */
export class TimeCells {
  private readonly read: ReturnType<typeof timeReader>;

  constructor(
    private readonly column: FoundColumn,
    readonly planned: TimeColumnPlan,
    private readonly clock: ZoneClock,
    private readonly note: Note,
  ) {
    this.read = timeReader(planned.plan, null);
  }

  /**
   * The moment that a cell means.
   *
   * @param allowsDay whether a date without a time of day will do
   * @throws Problem where the cell puts the whole column in doubt
   */
  moment(text: string, line: number, allowsDay: boolean, after: Reference | null): Moment | CellFault {
    const { plan } = this.planned;
    const day = allowsDay && plan.form === 'epochSeconds' ? between(text) : null;
    if (day) return day;
    const written = this.read(text);
    if (typeof written !== 'string') {
      const isDay = allowsDay && plan.form === 'spreadsheetDays' && !/[.,]/.test(text);
      return isDay ? this.day(written.localMs, text) : this.instant(written, text, line, after);
    }
    if (written === 'noClock' && allowsDay) {
      const dayMs = parseDate(splitTime(text.replace(/[\s\u202f]+/g, ' '))[0], plan.order);
      if (typeof dayMs === 'number') return this.day(dayMs, text);
    }
    if (written === 'noDate' && after) {
      const onDay = this.onDayOf(text, line, after);
      if (onDay) return onDay;
    }
    const { key, header } = this.column;
    const doubt = columnFault(written, text, plan, header);
    if (doubt) throw problemForKey(doubt, key).at({ line });
    const { what, fix } = timeFault(written, text, plan);
    return new CellFault(what, forKey(fix, key));
  }

  private instant(
    { localMs, offsetMs }: WrittenTime,
    text: string,
    line: number,
    after: Reference | null,
  ): Moment | CellFault {
    const offset = offsetMs ?? this.planned.offsetMs;
    if (offset !== null) return momentAt(localMs - offset);
    const plain = this.clock.toUtcPlain(localMs);
    if (!Number.isNaN(plain)) return momentAt(plain);
    const [first, second] = this.clock.toUtc(localMs);
    if (first === undefined) return this.skipped(text);
    if (second === undefined) return momentAt(first);
    // What follows another time cannot be the pass before it.
    if (after && first < after.moment.utcMs && second >= after.moment.utcMs) return momentAt(second);
    const hour = new Date(localMs).toISOString().slice(11, 13);
    this.note(
      line,
      `column "${shorten(this.column.header)}": the clock shows the hour from ${hour}:00 on ${dayInWords(localMs)} twice, and nothing says which one is meant; it is taken for the first`,
    );
    return momentAt(first);
  }

  private skipped(text: string): CellFault {
    const what = `"${shorten(text)}" does not exist in ${this.clock.zone}: the clocks went forward over it`;
    return new CellFault(what, SKIPPED_FIX, 'clock');
  }

  private day(localMs: number, text: string): Moment | CellFault {
    const start = this.startOfDay(localMs);
    const end = this.startOfDay(localMs + DAY_MS);
    if (Number.isNaN(start) || Number.isNaN(end)) return this.skipped(text);
    return { utcMs: start, endUtcMs: end, isDay: true };
  }

  private startOfDay(localMs: number): number {
    const { offsetMs } = this.planned;
    if (offsetMs !== null) return localMs - offsetMs;
    // In some zones the clocks go forward at midnight.
    for (let late = 0; late <= 2 * HOUR_MS; late += HOUR_MS / 2) {
      const [utc] = this.clock.toUtc(localMs + late);
      if (utc !== undefined) return utc;
    }
    return Number.NaN;
  }

  /** A time of day without a date: the first one at or after the time that it follows. */
  private onDayOf(text: string, line: number, after: Reference): Moment | CellFault | null {
    const time = parseClock(text);
    if (typeof time === 'string' || after.moment.isDay) return null;
    const offset = time.offsetMs ?? this.planned.offsetMs;
    const reference = offset === null ? this.clock.toLocal(after.moment.utcMs) : after.moment.utcMs + offset;
    const sameDay = Math.floor(reference / DAY_MS) * DAY_MS + time.ms;
    let found = this.instant({ localMs: sameDay, offsetMs: offset }, text, line, after);
    if (!(found instanceof CellFault) && found.utcMs < after.moment.utcMs) {
      found = this.instant({ localMs: sameDay + DAY_MS, offsetMs: offset }, text, line, after);
    }
    if (found instanceof CellFault) return found;
    if (found.utcMs - after.moment.utcMs <= LONGEST_WITHOUT_DATE_MS) {
      const [own, other] = [this.column.header, after.header].map((header) => shorten(header));
      this.note(
        line,
        `column "${own}" holds times of day without a date: each is taken for the first at or after "${other}"`,
      );
      return found;
    }
    return new CellFault(
      `"${shorten(text)}" has no date, and lies before "${shorten(after.header)}" or more than 12 h behind it`,
      'Export it with the date.',
    );
  }
}
