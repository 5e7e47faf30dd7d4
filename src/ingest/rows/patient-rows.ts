import { Problem, shorten } from '../../recording/problem.js';
import type { Watch } from '../../recording/waveform.js';
import type { ZoneClock } from '../../recording/zone.js';
import { saysAlarm } from '../columns/channel-names.js';
import type { ChannelColumn, Columns } from '../columns/columns.js';
import { headerWords } from '../columns/header-words.js';
import type { WrittenTime } from '../time/calendar.js';
import { columnFault, fromTo, type TimeReader, timeFault, timeText } from '../time/time-cell.js';
import type { TimePlan } from '../time/time-plan.js';
import type { WaveResult } from '../waveform/wave-result.js';
import { WaveSeries } from '../waveform/wave-series.js';
import type { WaveformPlan } from '../waveform/waveform-plan.js';
import { CORRECT_CELL, placed } from './correct-cell.js';
import type { MissingMarks, NumberReader } from './number-reader.js';
import { RowSeries } from './row-series.js';
import type { RowSetAside, SetAsideKind } from './set-aside.js';
import { SharedTimes } from './shared-times.js';
import { mayBeMissing, UnreadCells } from './unread-cells.js';

/** What all patients of a file share while it is read. */
export interface FileReading {
  readonly file: string;
  readonly headers: readonly string[];
  readonly columns: Columns;
  readonly plan: TimePlan;
  readonly clock: ZoneClock;
  readonly numbers: NumberReader;
  readonly isMissing: MissingMarks;
  /** How the times of the file carry offsets; filled while it is read. */
  readonly offsets: { bare: number; stated: number; readonly different: Set<number> };
  /** Columns without a name right of a channel, where decimal commas would leave their second half. */
  readonly nameless: readonly number[];
  /** How the rows come where they are a waveform, and who looks at each sample; null where they are not. */
  readonly waveform: { readonly plan: WaveformPlan; readonly watch: Watch } | null;
  /** What a parameter is, where the export has a row a value. */
  readonly parameter: (parameter: string, unit: string | null) => ChannelColumn | { readonly why: string };
}

/** A clock may change its offset with the season; more than this many in a file are no offsets. */
const MOST_OFFSETS = 3;

/** The start of a date, a time of day or a count of seconds, as a row of data begins with where it is cut off. */
const LIKE_A_TIME = /^(?:\d{1,4}[-./]\d|\d{1,2}:\d|\d{4,}(?!.*[a-z]))/i;

/** The rows of one patient in one file: each is in a series, or set aside with its reason. */
export class PatientRows {
  readonly series: RowSeries[] = [];
  readonly setAside: RowSetAside[] = [];
  rowsRead = 0;
  /** The line of the first row, whether it could be used or not. */
  firstLine = 0;
  /** The line of the last row that is used. */
  lastUsedLine = 0;
  /** Why the rest of this patient's rows in this file was not read. */
  problem: Problem | null = null;

  private readonly byChannel = new Map<ChannelColumn, RowSeries>();
  /** Only for an export with a row a value. */
  private readonly shared: SharedTimes | null;
  /** What kind of value each parameter comes as. */
  private readonly kinds = new Map<string, string>();
  private readonly unused = new Map<string, number>();
  /** Entries of `setAside` whose rows hold no time at all. */
  private readonly withoutTime: number[] = [];
  /** Cells beside the pressures that are no number, in rows that are used. */
  private readonly unread = new UnreadCells();
  /** The values of the row that is taken in. */
  private values = new Float64Array(0);

  constructor(
    private readonly reading: FileReading,
    readonly readTime: TimeReader,
  ) {
    this.shared = reading.columns.long ? new SharedTimes(reading.clock) : null;
    if (!reading.columns.long) {
      const { file, columns, clock, waveform } = reading;
      this.series.push(
        waveform
          ? new WaveSeries(file, columns.channels, clock, waveform.plan, waveform.watch)
          : new RowSeries(file, columns.channels, clock),
      );
      this.values = new Float64Array(reading.columns.channels.length);
    }
  }

  get file(): string {
    return this.reading.file;
  }

  /** What a waveform showed beside its means; null where the file is none. */
  get wave(): WaveResult | null {
    const [first] = this.series;
    return first instanceof WaveSeries ? first.result : null;
  }

  /** What somebody should know of cells that were taken as missing. */
  get cellWarnings(): string[] {
    return this.unread.words().map((words) => `${this.file}: ${words}`);
  }

  /** Takes a row in; one that puts all others in doubt ends the reading of this patient. */
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

  /** The instant of a plain row's time; NaN where the row has to go the long way, which says why. */
  plainInstant(localMs: number, offsetMs: number | null): number {
    const { columns, offsets } = this.reading;
    const isNew = offsetMs !== null && !offsets.different.has(offsetMs);
    if (isNew && offsets.different.size >= MOST_OFFSETS) return Number.NaN;
    const utc = this.series[0].instantAt(localMs, offsetMs ?? columns.time.offsetMs);
    if (Number.isNaN(utc)) return utc;
    if (offsetMs === null) offsets.bare++;
    else {
      offsets.stated++;
      if (isNew) offsets.different.add(offsetMs);
    }
    return utc;
  }

  /** Takes in a row of which everything was read already. */
  addRead(utcMs: number, line: number, values: Float64Array): void {
    if (this.rowsRead === 0) this.firstLine = line;
    this.rowsRead++;
    this.series[0].push(utcMs, line, values);
    this.lastUsedLine = line;
  }

  /** Takes note of a line that repeats the header, where exports were joined one behind the other. */
  addHeaderAgain(line: number): void {
    if (this.rowsRead === 0) this.firstLine = line;
    this.rowsRead++;
    this.putAside(line, 'footer', 'the header again');
  }

  private take(cells: readonly string[], line: number): void {
    const { headers, columns } = this.reading;
    if (cells.length !== headers.length) {
      if (!LIKE_A_TIME.test(cells[columns.time.index]?.trim() ?? ''))
        this.withoutTime.push(this.setAside.length);
      this.putAside(
        line,
        'cells',
        `${cells.length} cells where the header has ${headers.length}`,
        'Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.',
      );
      return;
    }
    if (this.reading.nameless.some((i) => /^\d+$/.test(cells[i].trim()))) {
      this.putAside(
        line,
        'cells',
        'a number stands under a column without a name',
        'Where it is the second half of a decimal comma, export with another delimiter.',
      );
      return;
    }
    const series = columns.long ? this.seriesOf(cells, line) : this.series[0];
    if (series) this.takeInto(series, cells, line);
  }

  /** The series of a row that holds one value; null, and the row is set aside, where its parameter is not read. */
  private seriesOf(cells: readonly string[], line: number): RowSeries | null {
    const { columns, parameter } = this.reading;
    const { long } = columns;
    if (!long) return null;
    const name = cells[long.parameter].trim();
    const qualifier = long.qualifier === null ? '' : cells[long.qualifier].trim();
    if (saysAlarm(headerWords(qualifier).name)) {
      this.countUnused(`${name}, ${qualifier}`, 'an alarm, a limit or a state, no measured value', line);
      return null;
    }
    const unit = long.unit === null ? null : cells[long.unit].trim();
    const column = parameter(name, unit === '' ? null : unit);
    if (!('kind' in column)) {
      this.countUnused(name, column.why, line);
      return null;
    }
    this.oneKindOnly(name, qualifier, long.qualifier);
    const known = this.byChannel.get(column);
    if (known) return known;
    const series = new RowSeries(this.file, [column], this.reading.clock, this.shared);
    this.byChannel.set(column, series);
    this.series.push(series);
    return series;
  }

  /** @throws Problem where a parameter comes as two kinds of value, which would be mixed on one curve */
  private oneKindOnly(name: string, qualifier: string, column: number | null): void {
    if (column === null || qualifier === '') return;
    const before = this.kinds.get(name) ?? qualifier;
    this.kinds.set(name, before);
    if (before === qualifier) return;
    throw new Problem(
      `"${shorten(name)}" comes as "${shorten(before)}" and as "${shorten(qualifier)}", which are not one curve`,
      'Export one of them.',
      { column: this.reading.headers[column] },
    );
  }

  private takeInto(series: RowSeries, cells: readonly string[], line: number): void {
    const { columns, headers } = this.reading;
    const text = timeText(cells, columns.time);
    const written = this.readTime(text);
    let faults: string[] | null = null;
    let fix: string | undefined;
    if (typeof written === 'string') {
      const header = headers[columns.time.index];
      const doubt = columnFault(written, text, this.reading.plan, header);
      if (doubt) throw doubt;
      const fault = timeFault(written, text, this.reading.plan);
      if (!LIKE_A_TIME.test(text)) this.withoutTime.push(this.setAside.length);
      faults = [placed(header, fault.what)];
      fix = fault.fix;
    }
    if (this.values.length < series.columns.length) this.values = new Float64Array(series.columns.length);
    let missing: ChannelColumn[] | null = null;
    for (let c = 0; c < series.columns.length; c++) {
      const column = series.columns[c];
      const fault = this.readValue(series, c, cells[column.index].trim(), line);
      if (fault === null) continue;
      // Where a row holds nothing but this value, there is no row to keep.
      if (!columns.long && mayBeMissing(column)) {
        missing ??= [];
        missing.push(column);
        this.values[c] = Number.NaN;
        continue;
      }
      faults ??= [];
      faults.push(placed(column.header, fault));
      fix ??= CORRECT_CELL;
    }
    if (faults) {
      this.putAside(line, 'unreadable', faults.join('; '), fix);
      return;
    }
    const time = this.instant(series, written as WrittenTime, text);
    series.push(time, line, this.values);
    this.lastUsedLine = line;
    for (const column of missing ?? []) this.unread.add(column, cells[column.index].trim());
  }

  private instant(series: RowSeries, written: WrittenTime, text: string): number {
    const { columns, headers, clock, offsets } = this.reading;
    if (written.offsetMs === null) offsets.bare++;
    else {
      offsets.stated++;
      offsets.different.add(written.offsetMs);
      if (offsets.different.size > MOST_OFFSETS)
        throw fromTo(`"${shorten(text)}"`, headers[columns.time.index]);
    }
    const utc = series.instantOf(written, columns.time.offsetMs);
    if (!Number.isNaN(utc)) return utc;
    throw new Problem(
      `"${shorten(text)}" does not exist in ${clock.zone}: the clocks went forward over it`,
      'Look at timezone in the pipeline file; a monitor that does not change its clock needs a zone such as Etc/GMT-1.',
      { column: headers[columns.time.index] },
    );
  }

  /** Puts a cell's value into `values`; NaN for a missing one. Returns what is wrong with it, or null. */
  private readValue(series: RowSeries, c: number, text: string, line: number): string | null {
    const { numbers, isMissing } = this.reading;
    // Marks such as -999 have to be looked up before a number is believed.
    if (isMissing(text)) {
      this.values[c] = Number.NaN;
      return null;
    }
    const value = numbers.read(text, line);
    if (!Number.isFinite(value)) return `"${shorten(text)}" ${numbers.why(text)}`;
    const { factor, offset, decimalsLost } = series.columns[c].conversion;
    const cells = series.channels[c];
    // The finest cell tells what the monitor resolves; a column soon shows it, so stop looking at two.
    if (cells.decimals < 2) {
      const decimals = Math.max(0, numbers.decimals(text) - decimalsLost);
      cells.decimals = Math.max(cells.decimals, Math.min(2, decimals));
    }
    this.values[c] = factor === 1 && offset === 0 ? value : value * factor + offset;
    return null;
  }

  private putAside(line: number, kind: SetAsideKind, reason: string, fix?: string): void {
    this.setAside.push({ file: this.file, line, rows: 1, kind, reason, fix });
  }

  /** Rows of a parameter that is not read stand in one entry: there may be as many as of those that are. */
  private countUnused(parameter: string, why: string, line: number): void {
    const at = this.unused.get(parameter);
    if (at === undefined) {
      this.unused.set(parameter, this.setAside.length);
      this.putAside(line, 'unused', `parameter "${shorten(parameter)}": ${why}`);
    } else this.setAside[at] = { ...this.setAside[at], rows: this.setAside[at].rows + 1 };
  }

  /** No more rows come. Lines behind the data that hold no time are no rows of data that went wrong. */
  finish(): void {
    for (const series of this.series) {
      series.finish(this.series.length);
      for (const entry of series.aside) this.setAside.push(entry);
    }
    for (const i of this.withoutTime) {
      const entry = this.setAside[i];
      if (this.lastUsedLine === 0 || entry.line < this.lastUsedLine) continue;
      this.setAside[i] = { ...entry, kind: 'footer', reason: 'a line behind the data, without a time' };
    }
  }
}
