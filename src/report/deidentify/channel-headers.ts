import { CHANNEL_UNITS, type Channel, type ChannelUnit, type ExportedKind } from '../../recording/channel.js';

/** Plain names by which our own reading knows each channel. */
export const SHARED_NAMES: Readonly<Record<ExportedKind, string>> = {
  icp: 'ICP',
  icpDrain: 'ICP drain',
  map: 'MAP',
  sbp: 'SBP',
  dbp: 'DBP',
  cpp: 'CPP',
  hr: 'HR',
  spo2: 'SpO2',
  rr: 'RR',
  etco2: 'EtCO2',
  temp: 'Temp',
  pbto2: 'PbtO2',
};

/** Units as a clinician writes them. */
export const SHARED_UNITS: Readonly<Record<ChannelUnit, string>> = {
  'mm[Hg]': 'mmHg',
  '/min': '/min',
  '%': '%',
  Cel: '°C',
};

/**
 * The header of a channel's column: what it measures, where ICP is measured, and the unit that values are kept in.
 * Nothing of the header that the export had goes over.
 */
export function sharedHeader({ kind, source }: Pick<Channel, 'kind' | 'source'>): string {
  const unit = SHARED_UNITS[CHANNEL_UNITS[kind]];
  const name = kind !== 'icp' || source === null ? SHARED_NAMES[kind as ExportedKind] : `ICP ${source}`;
  return `${name} (${unit})`;
}
