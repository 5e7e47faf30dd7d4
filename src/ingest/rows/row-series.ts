import type { ChannelKind, IcpSource } from '../../recording/channel.js';
import { firstAtOrAfter } from '../../recording/search.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { ChannelColumn } from '../columns/columns.js';
import type { WrittenTime } from '../time/calendar.js';
import { GrowingFloats } from './growing.js';
import { Instants } from './instants.js';
import { LineNumbers } from './line-numbers.js';
import type { RowSetAside } from './set-aside.js';
import type { SharedTimes } from './shared-times.js';

/** One channel's cells in a series, row by row. */
export interface ChannelCells {
  readonly kind: ChannelKind;
  readonly header: string;
  readonly source: IcpSource | null;
  /** In the channel's unit; NaN where the cell is blank or holds a missing mark. */
  readonly values: GrowingFloats;
  decimals: number;
}

/** The first row that stands at a place or behind it; -1 where there is no place. */
function rowAt(places: GrowingFloats, place: number): number {
  if (place < 0) return -1;
  const row = firstAtOrAfter(places.values(), place);
  return row < places.length ? row : -1;
}

/** Rows of one patient and one file that follow each other, as they came. */
export class RowSeries {
  /** Milliseconds since 1970-01-01 UTC. */
  readonly times = new GrowingFloats();
  readonly lines = new LineNumbers();
  readonly channels: readonly ChannelCells[];
  /** Rows that are earlier than the row before. */
  readonly stepsBack: number[] = [];
  /** True where each row is later than the one before; known once finished, as are the steps back. */
  isRising = true;
  /** The row from which on the second pass through a repeated hour was taken behind a hole; -1 where none. */
  secondPassAt = -1;
  /** The first row in an hour that the clock shows twice of which nothing says in which pass; -1 where none. */
  doubtfulAt = -1;
  private readonly instants: Instants;
  /** Places of the rows in the times that all series share. */
  private readonly places = new GrowingFloats();

  constructor(
    readonly file: string,
    readonly columns: readonly ChannelColumn[],
    clock: ZoneClock,
    private readonly shared: SharedTimes | null = null,
  ) {
    this.channels = columns.map(({ kind, header, source }) => ({
      kind,
      header,
      source,
      values: new GrowingFloats(),
      decimals: 0,
    }));
    this.instants = new Instants(clock, this.times);
  }

  /** The instant of the next row, which is pushed then; `fallbackOffsetMs` is what the header says of the clock. NaN in a skipped hour. */
  instantOf({ localMs, offsetMs }: WrittenTime, fallbackOffsetMs: number | null): number {
    return this.instantAt(localMs, offsetMs ?? fallbackOffsetMs);
  }

  /** The same of local digits and the offset that is known for them, if any. */
  instantAt(localMs: number, offset: number | null): number {
    if (offset !== null) return localMs - offset;
    if (this.shared) this.places.push(this.shared.add(localMs, this));
    return this.instants.next(localMs);
  }

  /** Rows that were set aside as they came. */
  get aside(): readonly RowSetAside[] {
    return [];
  }

  /** How many rows of the file stand behind one of these. */
  rowsAt(_index: number): number {
    return 1;
  }

  /** Appends a row; `values` hold one number a channel. */
  push(time: number, line: number, values: Float64Array): void {
    this.times.push(time);
    this.lines.push(line);
    for (let c = 0; c < this.channels.length; c++) this.channels[c].values.push(values[c]);
  }

  /** No more rows come: the times are settled, and where they do not rise is known. */
  finish(seriesCount = 1): void {
    const { shared, places } = this;
    if (shared?.areMixed(seriesCount) && places.length === this.times.length) {
      shared.instants.finish();
      for (let i = 0; i < places.length; i++) this.times.set(i, shared.times.at(places.at(i)));
      this.secondPassAt = rowAt(places, shared.instants.secondPassAt);
      this.doubtfulAt = rowAt(places, shared.instants.doubtfulAt);
    } else {
      this.instants.finish();
      this.secondPassAt = this.instants.secondPassAt;
      this.doubtfulAt = this.instants.doubtfulAt;
    }
    const times = this.times.values();
    for (let i = 1; i < times.length; i++) {
      if (times[i] > times[i - 1]) continue;
      this.isRising = false;
      if (times[i] < times[i - 1]) this.stepsBack.push(i);
    }
  }
}
