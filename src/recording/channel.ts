import type { Interval } from './interval.js';
import type { Signal } from './signal.js';

/** What a channel measures; each is a pressure in mm[Hg]. */
export type ChannelKind = 'icp' | 'map' | 'sbp' | 'dbp';

/** Names as a clinician writes them. */
export const CHANNEL_NAMES: Readonly<Record<ChannelKind | 'cpp', string>> = {
  icp: 'ICP',
  map: 'MAP',
  sbp: 'systolic ABP',
  dbp: 'diastolic ABP',
  cpp: 'CPP',
};

/** One measured quantity of one patient, as it came. */
export interface Channel {
  readonly kind: ChannelKind;
  /** The header of the column that it was read from. */
  readonly header: string;
  /** The samples as x(t), before any cleaning. */
  readonly signal: Signal;
  /** Median spacing in milliseconds; NaN under two samples. */
  readonly nominalIntervalMs: number;
  /** Decimals that the monitor wrote, in mm[Hg]: what a report may show. */
  readonly decimals: number;
  /** Stretches longer than maxGap in which rows came, but with blanks or missing marks in this column. */
  readonly blanks: readonly Interval[];
}
