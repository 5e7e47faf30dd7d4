import type { Columns } from '../columns/columns.js';
import type { Delimiter } from '../text/parse-records.js';
import type { Lane } from '../text/read-records.js';
import type { TimePlan } from '../time/time-plan.js';
import type { NumberReader } from './number-reader.js';
import { POWERS_OF_TEN } from './parse-number.js';
import type { PatientRows } from './patient-rows.js';
import { PlainTime } from './plain-time.js';

const NEWLINE = 10;
const QUOTE = 34;
const PLUS = 43;
const MINUS = 45;
const ZERO = 48;
/** More digits than a double holds for sure are left to the library. */
const MOST_DIGITS = 15;

/** What a cell of the header's column is to the lane; a channel is its place in the list of channels. */
const IGNORED = -2;
const TIME = -1;

function isAmong(list: readonly number[], value: number): boolean {
  for (let i = 0; i < list.length; i++) if (list[i] === value) return true;
  return false;
}

/** What the lane needs to know of a file. */
export interface PlainRowsInput {
  readonly headers: readonly string[];
  readonly columns: Columns;
  readonly delimiter: Delimiter;
  readonly plan: TimePlan;
  readonly dataLine: number;
  readonly numbers: NumberReader;
  /** Numbers that mean "no value". */
  readonly missingNumbers: readonly number[];
  /** The patient's rows; made when the first row comes. */
  readonly rows: () => PatientRows;
}

/**
 * Reads rows of a time and plain numbers straight out of the text, as nearly all rows are, many times faster than cell by
 * cell: digits with at most one decimal mark, blanks, and columns that nobody reads. It stops before the first line that
 * holds anything else (a quote, a word, a space, another number of cells, a time that cannot be read), which goes the
 * long way. What it takes is what the long way would have taken, to the last bit.
 */
export class PlainRows implements Lane {
  lines = 0;
  private readonly roles: Int32Array;
  private readonly values: Float64Array;
  /** Digits behind the mark of each value of the row at hand; -1 for a blank. */
  private readonly behind: Int32Array;
  private readonly delimiter: number;
  private readonly time: PlainTime;
  private hasMark = false;
  private bytes: Buffer = Buffer.alloc(0);
  private length = 0;

  constructor(private readonly input: PlainRowsInput) {
    const { headers, columns, delimiter, plan } = input;
    this.roles = new Int32Array(headers.length).fill(IGNORED);
    this.roles[columns.time.index] = TIME;
    for (const [c, { index }] of columns.channels.entries()) this.roles[index] = c;
    this.values = new Float64Array(columns.channels.length);
    this.behind = new Int32Array(columns.channels.length);
    this.delimiter = delimiter.charCodeAt(0);
    this.time = new PlainTime(plan.form === 'calendar');
  }

  take(bytes: Buffer, from: number, end: number, line: number): number {
    this.lines = 0;
    // A file of blank lines has no rows.
    if (line < this.input.dataLine || bytes[from] === NEWLINE) return from;
    this.bytes = bytes;
    this.length = end;
    const rows = this.input.rows();
    const mark = (this.input.numbers.decimal?.mark ?? '.').charCodeAt(0);
    let at = from;
    while (at < end && rows.problem === null) {
      const next = this.readRow(at, mark, rows);
      if (next < 0 || !this.addRow(rows, line + this.lines)) break;
      this.lines++;
      at = next;
    }
    return at;
  }

  /** Reads the cells of the row that starts here; where the next one starts, or -1 where it is no plain row. */
  private readRow(start: number, mark: number, rows: PatientRows): number {
    const { roles, delimiter, bytes } = this;
    const last = roles.length - 1;
    this.hasMark = false;
    let at = start;
    for (let column = 0; column <= last; column++) {
      const role = roles[column];
      if (role >= 0) at = this.readNumber(at, role, mark);
      else {
        const end = this.cellEnd(at);
        if (role === TIME && end >= 0 && !this.time.read(bytes, at, end, rows.readTime)) return -1;
        at = end;
      }
      if (at < 0 || bytes[at] !== (column < last ? delimiter : NEWLINE)) return -1;
      at++;
    }
    return at;
  }

  /** The end of a cell; -1 where it holds a quote. */
  private cellEnd(start: number): number {
    const { delimiter, bytes, length } = this;
    for (let at = start; at < length; at++) {
      const code = bytes[at];
      if (code === delimiter || code === NEWLINE) return at;
      if (code === QUOTE) return -1;
    }
    return -1;
  }

  /** Reads a plain number, or a blank, as mantissa / 10^k; the end of the cell, or -1 where it is anything else. */
  private readNumber(start: number, channel: number, mark: number): number {
    const { bytes } = this;
    let at = start;
    let code = bytes[at];
    if (code === this.delimiter || code === NEWLINE) {
      this.values[channel] = Number.NaN;
      this.behind[channel] = -1;
      return at;
    }
    const isSigned = code === MINUS || code === PLUS;
    const isNegative = code === MINUS;
    if (isSigned) {
      code = bytes[++at];
      if (!(code >= ZERO && code <= ZERO + 9)) return -1;
    }
    let mantissa = 0;
    let digits = 0;
    let behind = 0;
    let markAt = -1;
    for (; ; code = bytes[++at]) {
      if (code >= ZERO && code <= ZERO + 9) {
        mantissa = mantissa * 10 + (code - ZERO);
        digits++;
        if (markAt >= 0) behind++;
      } else if (code === mark && markAt < 0) markAt = at;
      else break;
    }
    // A cell ends at a delimiter, which no decimal mark is; a mark without digits behind it is rare.
    if (digits === 0 || digits > MOST_DIGITS || (markAt >= 0 && behind === 0)) return -1;
    const size = behind === 0 ? mantissa : mantissa / POWERS_OF_TEN[behind];
    this.values[channel] = isNegative ? -size : size;
    this.behind[channel] = behind;
    if (markAt >= 0) this.hasMark = true;
    return at;
  }

  /** Hands the row over; false where the long way has to say what is wrong with it. */
  private addRow(rows: PatientRows, line: number): boolean {
    const { numbers, columns, missingNumbers } = this.input;
    const { values, behind, time } = this;
    const series = rows.series[0];
    const utc = rows.plainInstant(time.localMs, time.offsetMs);
    if (Number.isNaN(utc)) return false;
    if (this.hasMark) numbers.decimal ??= { mark: '.', line };
    for (let c = 0; c < values.length; c++) {
      if (behind[c] < 0) continue;
      if (isAmong(missingNumbers, values[c])) {
        values[c] = Number.NaN;
        continue;
      }
      const { factor, offset, decimalsLost } = columns.channels[c].conversion;
      const cells = series.channels[c];
      if (cells.decimals < 2)
        cells.decimals = Math.max(cells.decimals, Math.min(2, behind[c] - decimalsLost));
      if (factor !== 1 || offset !== 0) values[c] = values[c] * factor + offset;
    }
    rows.addRead(utc, line, values);
    return true;
  }
}
