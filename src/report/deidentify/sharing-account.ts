import type { ExportedKind } from '../../recording/channel.js';
import type { TimesMode } from './shared-times.js';

/** What became of a log: rows that went over, and those that did not since nobody of the set is meant. */
export interface SharedLogAccount {
  readonly shared: number;
  readonly leftOut: number;
}

/** What was done, in numbers; nothing in it names anybody, so that it may stand in the shared folder. */
export interface SharingAccount {
  readonly version: string;
  readonly times: TimesMode;
  /** Dates are moved by up to so many days; null where times are elapsed. */
  readonly mostDays: number | null;
  readonly patients: {
    /** With an export in the set. */
    readonly shared: number;
    /** Whose export could not be read. */
    readonly failed: number;
    /** In the cohort table alone. */
    readonly cohortOnly: number;
    /** Whose export was a waveform, of which means over whole seconds are shared. */
    readonly waveforms: number;
  };
  readonly rows: { readonly read: number; readonly setAside: number };
  /** Columns of exports that are no channel. */
  readonly columnsLeftOut: number;
  /** By channel, how many patients have it. */
  readonly channels: readonly { readonly kind: ExportedKind; readonly patients: number }[];
  /** Null where no such log was given. */
  readonly care: SharedLogAccount | null;
  readonly alarms: SharedLogAccount | null;
  /** What persons decided on marked stretches. */
  readonly decisions: SharedLogAccount | null;
  /** CPP targets by patient and time. */
  readonly targets: SharedLogAccount | null;
  readonly cohort:
    | (SharedLogAccount & { readonly agesGrouped: number; readonly timesLeftOut: number })
    | null;
  /** Rows of logs and tables that could not be used. */
  readonly logRowsSetAside: number;
  /** Keys of the pipeline file that say something and are not carried over. */
  readonly keysLeftOut: readonly string[];
}
