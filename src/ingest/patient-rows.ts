import type { ChannelKind } from '../recording/channel.js';
import { Problem, shorten } from '../recording/problem.js';
import type { ZoneClock } from '../recording/zone.js';
import { GrowingFloats } from './growing.js';
import { decimalsOf, parseDecimal } from './parse-number.js';
import { isoTimeReader } from './parse-time.js';
import type { Columns } from './recognise-columns.js';
import { decimalsInMmHg, mmHgPer } from './units.js';

/** A row that no figure uses, and why. */
export interface RowSetAside {
  readonly file: string;
  readonly line: number;
  readonly reason: string;
}

/** One channel's cells in one file, row by row. */
export interface ChannelCells {
  readonly kind: ChannelKind;
  readonly header: string;
  /** mm[Hg]; NaN where the cell is blank or holds a missing mark. */
  readonly values: GrowingFloats;
  decimals: number;
}

/** The file holds a second header. */
export const headerAgain = (): Problem =>
  new Problem('the header stands here again', 'Two exports seem to be joined: split the file here.');

/** The rows of one patient in one file, in time order, no time twice. */
export class PatientRows {
  /** Milliseconds since 1970-01-01 UTC. */
  readonly times = new GrowingFloats();
  readonly lines = new GrowingFloats();
  readonly channels: ChannelCells[];
  readonly setAside: RowSetAside[] = [];
  rowsRead = 0;
  /** The line of the first row, whether it could be used or not. */
  firstLine = 0;
  /** Why the rest of this patient's rows in this file was not read. */
  problem: Problem | null = null;

  private readonly readTime = isoTimeReader();
  private readonly factors: number[];
  /** The values of the row that is taken in. */
  private readonly values: Float64Array;
  /** Missing marks such as -999 have to be looked up before a number is believed. */
  private readonly numbersAreMarks: boolean;

  constructor(
    readonly file: string,
    private readonly headers: readonly string[],
    private readonly columns: Columns,
    private readonly clock: ZoneClock,
    private readonly missing: ReadonlySet<string>,
  ) {
    this.channels = columns.channels.map(({ kind, header }) => ({
      kind,
      header,
      values: new GrowingFloats(),
      decimals: 0,
    }));
    this.values = new Float64Array(columns.channels.length);
    this.factors = columns.channels.map(({ unit }) => mmHgPer(unit));
    this.numbersAreMarks = [...missing].some((mark) => Number.isFinite(parseDecimal(mark)));
  }

  /** Takes a row in; a bad one ends the reading of this patient. */
  add(cells: readonly string[], line: number): void {
    if (this.rowsRead === 0) this.firstLine = line;
    this.rowsRead++;
    if (this.problem) return;
    try {
      this.take(cells, line);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      this.problem = error.at({ file: this.file, line });
    }
  }

  private take(cells: readonly string[], line: number): void {
    if (cells.length !== this.headers.length) {
      this.setAside.push({
        file: this.file,
        line,
        reason: `${cells.length} cells where the header has ${this.headers.length}`,
      });
      return;
    }
    const time = this.timeOf(cells[this.columns.time].trim());
    const { values } = this;
    for (let c = 0; c < values.length; c++)
      values[c] = this.valueOf(cells[this.columns.channels[c].index].trim(), c);
    const previous = this.times.last();
    if (previous !== undefined && time <= previous) {
      if (time < previous) {
        throw new Problem(
          `the times run backwards or start again: ${cells[this.columns.time].trim()} is earlier than the row before`,
          'Sort the rows by time; where two exports were joined or a clock was set back, split the file here.',
        );
      }
      this.addToLast([...values], line);
      return;
    }
    this.times.push(time);
    this.lines.push(line);
    for (let c = 0; c < values.length; c++) this.channels[c].values.push(values[c]);
  }

  /** A second row at the same time fills what the first left blank; otherwise it is set aside. */
  private addToLast(values: readonly number[], line: number): void {
    const last = this.times.length - 1;
    const added = values.map(
      (value, c) => !Number.isNaN(value) && Number.isNaN(this.channels[c].values.at(last)),
    );
    const differs = values.some((value, c) => {
      const kept = this.channels[c].values.at(last);
      return !added[c] && !Number.isNaN(value) && value !== kept;
    });
    if (differs || !added.includes(true)) {
      const reason = `same time as line ${this.lines.last()}, ${differs ? 'which is kept, with other values' : 'and nothing new'}`;
      this.setAside.push({ file: this.file, line, reason });
      return;
    }
    for (let c = 0; c < values.length; c++) if (added[c]) this.channels[c].values.set(last, values[c]);
  }

  private timeOf(text: string): number {
    const written = this.readTime(text);
    const column = this.headers[this.columns.time];
    if (!written) {
      if (text === column.trim()) throw headerAgain();
      throw new Problem(
        text === '' ? 'the time is blank' : `"${shorten(text)}" is no time that can be read`,
        'Times are expected as 2031-02-11 02:10:00, with or without an offset.',
        { column },
      );
    }
    const offsetMs = written.offsetMs ?? this.columns.timeOffsetMs;
    if (offsetMs !== null) return written.localMs - offsetMs;
    const utc = this.clock.toUtcAfter(written.localMs, this.times.last() ?? Number.NEGATIVE_INFINITY);
    if (!Number.isNaN(utc)) return utc;
    throw new Problem(
      `"${shorten(text)}" does not exist in ${this.clock.zone}: the clocks went forward over it`,
      'Look at timezone in the pipeline file; a monitor that does not change its clock needs a zone such as Etc/GMT-1.',
      { column },
    );
  }

  private valueOf(text: string, c: number): number {
    const value = parseDecimal(text);
    const { unit, header } = this.columns.channels[c];
    if (!Number.isFinite(value) || this.numbersAreMarks) {
      if (text === '' || this.missing.has(text)) return Number.NaN;
    }
    if (!Number.isFinite(value)) {
      throw new Problem(
        `"${shorten(text)}" is not a number`,
        /^[+-]?\d+,\d+$/.test(text)
          ? 'Decimals are expected with a point.'
          : 'Correct the cell; where it means "no value", list it in the pipeline file as columns: {missing: [...]}.',
        { column: header },
      );
    }
    const cells = this.channels[c];
    // The finest cell tells what the monitor resolves; a column soon shows it, so stop looking at two.
    if (cells.decimals < 2) {
      cells.decimals = Math.max(cells.decimals, Math.min(2, decimalsInMmHg(decimalsOf(text), unit)));
    }
    return this.factors[c] === 1 ? value : value * this.factors[c];
  }
}
