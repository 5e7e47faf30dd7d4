import type { Interval } from './interval.js';
import type { Signal } from './signal.js';

/**
 * What a channel measures. `icpDrain` is ICP through a drain where a probe reads it too; `icpPulse` and `abpPulse` are
 * computed from waveforms and never read from an export.
 */
export type ChannelKind =
  | 'icp'
  | 'icpDrain'
  | 'map'
  | 'sbp'
  | 'dbp'
  | 'cpp'
  | 'hr'
  | 'spo2'
  | 'rr'
  | 'etco2'
  | 'temp'
  | 'pbto2'
  | 'icpPulse'
  | 'abpPulse';

/** Channels that an export may hold. */
export type ExportedKind = Exclude<ChannelKind, 'icpPulse' | 'abpPulse'>;

/** Names as a clinician writes them. */
export const CHANNEL_NAMES: Readonly<Record<ChannelKind, string>> = {
  icp: 'ICP',
  icpDrain: 'ICP through the drain',
  map: 'MAP',
  sbp: 'systolic ABP',
  dbp: 'diastolic ABP',
  cpp: 'CPP',
  hr: 'heart rate',
  spo2: 'SpO2',
  rr: 'respiratory rate',
  etco2: 'end-tidal CO2',
  temp: 'temperature',
  pbto2: 'brain tissue oxygen',
  icpPulse: 'ICP pulse',
  abpPulse: 'arterial pulse',
};

/** Channels that an export may hold, in the order in which columns are looked for. */
export const EXPORTED_KINDS = (Object.keys(CHANNEL_NAMES) as ChannelKind[]).filter(
  (kind): kind is ExportedKind => kind !== 'icpPulse' && kind !== 'abpPulse',
);

/** Units of all values of a channel inside, in UCUM spelling. */
export type ChannelUnit = 'mm[Hg]' | '/min' | '%' | 'Cel';

/** The unit that each channel is kept in, whatever the export used. */
export const CHANNEL_UNITS: Readonly<Record<ChannelKind, ChannelUnit>> = {
  icp: 'mm[Hg]',
  icpDrain: 'mm[Hg]',
  map: 'mm[Hg]',
  sbp: 'mm[Hg]',
  dbp: 'mm[Hg]',
  cpp: 'mm[Hg]',
  hr: '/min',
  spo2: '%',
  rr: '/min',
  etco2: 'mm[Hg]',
  temp: 'Cel',
  pbto2: 'mm[Hg]',
  icpPulse: 'mm[Hg]',
  abpPulse: 'mm[Hg]',
};

/** Where an ICP is measured. */
export type IcpSource = 'probe' | 'drain';

/** One measured quantity of one patient, as it came. */
export interface Channel {
  readonly kind: ChannelKind;
  /** The header of the column, or the parameter, that it was read from. */
  readonly header: string;
  /** Only for ICP, and only where the export or the pipeline file says so. */
  readonly source: IcpSource | null;
  /** How it was computed where the export holds no such channel; null for what was measured. */
  readonly derivedFrom: string | null;
  /** By how much its times were moved to later ones, where the pipeline file says so. */
  readonly shiftSeconds?: number | undefined;
  /** The samples as x(t), before any cleaning. */
  readonly signal: Signal;
  /** Median spacing in milliseconds; NaN under two samples. */
  readonly nominalIntervalMs: number;
  /** Decimals that the monitor wrote, in the channel's unit: what a report may show. */
  readonly decimals: number;
  /** Stretches longer than maxGap in which rows came, but with blanks or missing marks in this column. */
  readonly blanks: readonly Interval[];
}
