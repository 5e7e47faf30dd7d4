import { PLAIN_CALENDAR_TIME } from '../time/calendar.js';
import type { TimeReader } from '../time/time-cell.js';
import { POWERS_OF_TEN } from './parse-number.js';

const DAY_MS = 86_400_000;
const DAY_LENGTH = 10;
const MINUTE_LENGTH = 17;
/** `2031-02-11 19:00:00` and its relatives; with a fraction there is more. */
const PLAIN_LENGTH = 19;
const MOST_FRACTION = 6;
const ZERO = 48;
const POINT = 46;
const COLON = 58;
const SPACE = 32;
const LETTER_T = 84;

const pair = (bytes: Uint8Array, at: number): number => {
  const tens = bytes[at] - ZERO;
  const ones = bytes[at + 1] - ZERO;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
};

/**
 * Reads times of a plain row: the clock of a day that was seen before digit by digit, all others with the file's own reader.
 * What it reads stands in `localMs` and `offsetMs` until the next call.
 */
export class PlainTime {
  localMs = 0;
  offsetMs: number | null = null;
  /** The date of the last row, as it was written. */
  private readonly day = new Uint8Array(DAY_LENGTH);
  private hasDay = false;
  /** The same up to the colon behind the minute; zeros are no text. */
  private readonly minute = new Uint8Array(MINUTE_LENGTH);
  private minuteMs = 0;
  private dayMs = 0;

  constructor(private readonly isCalendar: boolean) {}

  /** False where the cell is no time, or has spaces around it. */
  read(bytes: Buffer, start: number, end: number, readTime: TimeReader): boolean {
    if (this.hasDay && this.readClock(bytes, start, end)) return true;
    return this.readWhole(bytes.toString('latin1', start, end), readTime);
  }

  private readClock(bytes: Uint8Array, start: number, end: number): boolean {
    const length = end - start;
    if (length >= PLAIN_LENGTH && this.isSameMinute(bytes, start)) {
      const second = pair(bytes, start + 17);
      const fraction = length === PLAIN_LENGTH ? 0 : this.fractionMs(bytes, start + PLAIN_LENGTH, end);
      if (!(second <= 59) || Number.isNaN(fraction)) return false;
      this.localMs = this.minuteMs + second * 1000 + fraction;
      this.offsetMs = null;
      return true;
    }
    return this.readClockOfDay(bytes, start, end);
  }

  /** True where the cell begins with the minute of the row before, as nearly all do; its end changes first. */
  private isSameMinute(bytes: Uint8Array, start: number): boolean {
    const { minute } = this;
    for (let i = MINUTE_LENGTH - 1; i >= 0; i--) if (bytes[start + i] !== minute[i]) return false;
    return true;
  }

  private readClockOfDay(bytes: Uint8Array, start: number, end: number): boolean {
    const { day } = this;
    if (end - start < PLAIN_LENGTH) return false;
    // The end of a date changes first.
    for (let i = DAY_LENGTH - 1; i >= 0; i--) if (bytes[start + i] !== day[i]) return false;
    const parting = bytes[start + 10];
    if (parting !== SPACE && parting !== LETTER_T) return false;
    if (bytes[start + 13] !== COLON || bytes[start + 16] !== COLON) return false;
    const hour = pair(bytes, start + 11);
    const minute = pair(bytes, start + 14);
    const second = pair(bytes, start + 17);
    if (!(hour <= 23 && minute <= 59 && second <= 59)) return false;
    const fraction = end - start === PLAIN_LENGTH ? 0 : this.fractionMs(bytes, start + PLAIN_LENGTH, end);
    if (Number.isNaN(fraction)) return false;
    for (let i = 0; i < MINUTE_LENGTH; i++) this.minute[i] = bytes[start + i];
    this.minuteMs = this.dayMs + (hour * 60 + minute) * 60_000;
    this.localMs = this.minuteMs + second * 1000 + fraction;
    this.offsetMs = null;
    return true;
  }

  /** `.25` as 250; NaN where it is no fraction. */
  private fractionMs(bytes: Uint8Array, start: number, end: number): number {
    const digits = end - start - 1;
    if (bytes[start] !== POINT || digits < 1 || digits > MOST_FRACTION) return Number.NaN;
    let mantissa = 0;
    for (let at = start + 1; at < end; at++) {
      const digit = bytes[at] - ZERO;
      if (!(digit >= 0 && digit <= 9)) return Number.NaN;
      mantissa = mantissa * 10 + digit;
    }
    return (mantissa / POWERS_OF_TEN[digits]) * 1000;
  }

  /** Null where the reader itself fails, as for elapsed times without a start: the long way says why. */
  private readBy(readTime: TimeReader, cell: string): ReturnType<TimeReader> | null {
    try {
      return readTime(cell);
    } catch {
      return null;
    }
  }

  private readWhole(cell: string, readTime: TimeReader): boolean {
    const first = cell.charCodeAt(0) - ZERO;
    if (!(first >= 0 && first <= 9) || cell !== cell.trim()) return false;
    const written = this.readBy(readTime, cell);
    if (written === null || typeof written === 'string') return false;
    this.localMs = written.localMs;
    this.offsetMs = written.offsetMs;
    // 24:00 belongs to the day before.
    if (this.isCalendar && PLAIN_CALENDAR_TIME.test(cell) && !cell.startsWith('24', 11)) {
      for (let i = 0; i < DAY_LENGTH; i++) this.day[i] = cell.charCodeAt(i);
      this.hasDay = true;
      this.dayMs = Math.floor(written.localMs / DAY_MS) * DAY_MS;
    }
    return true;
  }
}
