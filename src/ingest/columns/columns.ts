import type { ChannelKind, IcpSource } from '../../recording/channel.js';
import type { DateOrder } from '../settings.js';
import type { Conversion, ExportUnit } from './units.js';

/** What a column, or a parameter of an export with a row a value, was taken for. */
export interface ChannelColumn {
  /** Counts from 0; that of the value column where the export has a row a value. */
  readonly index: number;
  readonly kind: ChannelKind;
  readonly header: string;
  /** The export's unit. */
  readonly unit: ExportUnit;
  readonly conversion: Conversion;
  readonly source: IcpSource | null;
  /** What decided, in plain words. */
  readonly why: string;
}

/** Where the times stand. */
export interface TimeColumns {
  readonly index: number;
  /** The column of the date where it stands apart. */
  readonly date: number | null;
  /** Local time minus UTC in milliseconds where the header says it; null where it does not. */
  readonly offsetMs: number | null;
  /** Milliseconds of the unit that the header gives, for elapsed time. */
  readonly unitMs: number | null;
  /** The order of day and month that the header or the row of units states. */
  readonly order: DateOrder | null;
}

/** A column that is not read, and why. */
export interface LeftAlone {
  readonly header: string;
  readonly why: string;
}

/** A file's columns by meaning; indices count from 0. */
export interface Columns {
  readonly time: TimeColumns;
  readonly patient: number | null;
  /** Empty where the export has a row a value. */
  readonly channels: readonly ChannelColumn[];
  /** The columns of an export with a row a value; null where it has a column a channel. */
  readonly long: {
    readonly parameter: number;
    readonly value: number;
    readonly unit: number | null;
    /** Says what kind of value stands there: a mean, a limit. */
    readonly qualifier: number | null;
  } | null;
  /** Columns that may name more than one patient in a file that is read as one. */
  readonly identities: readonly number[];
  readonly leftAlone: readonly LeftAlone[];
  /** What somebody should know of the choice, in plain words. */
  readonly warnings: readonly string[];
}
