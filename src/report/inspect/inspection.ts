import type { DateOrder, TimeForm } from '../../ingest/settings.js';
import type { ChannelKind } from '../../recording/channel.js';

/** A column, or a parameter, and what it was taken for. */
export interface ColumnInspection {
  readonly header: string;
  /** A channel by its key, or in words what else the column holds; null where it was left alone. */
  readonly takenFor: string | null;
  /** The export's unit in UCUM spelling; null for what has none. */
  readonly unit: string | null;
  readonly why: string;
}

/** A channel of the file, in its own unit of the recording. */
export interface ChannelInspection {
  readonly channel: ChannelKind;
  readonly header: string;
  readonly source: 'probe' | 'drain' | null;
  readonly derivedFrom: string | null;
  readonly unit: string;
  readonly decimals: number;
  readonly samples: number;
  readonly blanks: number;
  readonly lowest: number;
  readonly median: number;
  readonly highest: number;
  /** Highest value in each of equal parts of the time from first to last; null where nothing is known. */
  readonly strip: readonly (number | null)[];
  readonly rates: readonly {
    readonly start: string;
    readonly end: string;
    readonly intervalSeconds: number;
  }[];
  readonly gaps: {
    readonly count: number;
    readonly longest: { readonly start: string; readonly seconds: number } | null;
  };
  readonly unevenShare: number;
}

/** One patient of the file. */
export interface PatientInspection {
  readonly id: string;
  readonly rows: number;
  readonly setAside: number;
  readonly start: string | null;
  readonly end: string | null;
  readonly problem: string | null;
  readonly channels: readonly ChannelInspection[];
}

/** How the file is written. */
export interface DialectInspection {
  readonly encoding: string | null;
  readonly delimiter: string;
  readonly decimal: string | null;
  readonly packed: boolean | null;
  readonly headerLine: number | null;
  readonly unitsLine: boolean;
  readonly linesAbove: readonly string[];
  /** Null for a log or table. */
  readonly shape: 'wide' | 'long' | null;
}

/** How the times are written. */
export interface TimesInspection {
  readonly columns: readonly string[];
  readonly form: TimeForm;
  /** Which number of a date such as 03/04/2031 is the day; null where dates are written otherwise. */
  readonly order: DateOrder | null;
  readonly why: string;
  readonly example: string;
  readonly zone: string;
  /** What decides the zone of the times. */
  readonly zoneFrom: 'the cells' | 'the header' | 'the pipeline file' | 'nothing' | 'the form' | 'the start';
}

/** Rows that were set aside for one reason. */
export interface SetAsideInspection {
  /** Of the first of them. */
  readonly line: number;
  /** Of the last of them that was looked at. */
  readonly lastLine: number;
  readonly rows: number;
  readonly reason: string;
  readonly row: string;
}

/** Everything that `inspect` says of a file. */
export interface Inspection {
  readonly file: string;
  /** What kind of file it is. */
  readonly kind: 'export' | 'alarms' | 'care' | 'occupancy' | 'cohort' | 'targets';
  /** Why it cannot be used as it is; null where it can. */
  readonly problem: string | null;
  readonly bytes: number | null;
  readonly sha256: string | null;
  readonly dialect: DialectInspection | null;
  readonly times: TimesInspection | null;
  /** How a run would know the patient, in words. */
  readonly patientFrom: string | null;
  /** The column that a pipeline file has to name, since the rows name several patients; null where none. */
  readonly patientColumn: string | null;
  readonly columns: readonly ColumnInspection[];
  readonly patients: readonly PatientInspection[];
  /** Only of a log or table: the first and last time, and how many rows of what. */
  readonly table: {
    readonly start: string | null;
    readonly end: string | null;
    readonly counts: readonly { readonly what: string; readonly rows: number }[];
    /** Of a care log: how many entries on the head of the bed give its angle; null where none is on it. */
    readonly angles: string | null;
  } | null;
  readonly rows: { readonly read: number; readonly used: number; readonly setAside: number };
  /** The first rows that would be set aside. */
  readonly setAside: readonly SetAsideInspection[];
  readonly warnings: readonly string[];
}
