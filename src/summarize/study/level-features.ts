import type { PieceSums } from '../piece-sums.js';
import { DOSE_SECONDS, type Feature, GUIDELINE, GUIDELINE_CHILDREN, OWN_CONVENTION } from './feature.js';
import type { WindowMeasures } from './window-measures.js';

/** Pressures that a guideline names. */
const THRESHOLD_SOURCE: Readonly<Record<string, string>> = {
  'above 20': GUIDELINE_CHILDREN,
  'above 22': GUIDELINE,
  'below 40': GUIDELINE_CHILDREN,
  'below 60': GUIDELINE,
  'below 70': GUIDELINE,
};

/** Hours, share, dose and dose per hour past one pressure. */
export function levelFeatures(channel: 'icp' | 'cpp', side: 'above' | 'below', level: number): Feature[] {
  const name = channel.toUpperCase();
  const past = side === 'above' ? 'Above' : 'Below';
  const source =
    THRESHOLD_SOURCE[`${side} ${level}`] ?? `${OWN_CONVENTION}: a threshold beside those of guidelines`;
  const sums = (measures: WindowMeasures): PieceSums =>
    channel === 'icp' ? measures.icp.sums : measures.cpp;
  const hours = (of: PieceSums): number => (side === 'above' ? of.hoursAbove(level) : of.hoursBelow(level));
  const dose = (of: PieceSums): number => (side === 'above' ? of.doseAbove(level) : of.doseBelow(level));
  const distance = side === 'above' ? `${name} - ${level}` : `${level} - ${name}`;
  const sign = side === 'above' ? '>' : '<';
  const common = { source, coarsestSeconds: DOSE_SECONDS, needs: channel };
  return [
    {
      ...common,
      key: `${channel}Hours${past}${level}`,
      title: `Hours of ${name} ${side} ${level} mmHg`,
      unit: 'h',
      definition: `Length of the monitored time with ${name} ${sign} ${level} mmHg, crossings exact.`,
      read: (measures) => hours(sums(measures)),
    },
    {
      ...common,
      key: `${channel}Share${past}${level}`,
      title: `Share of monitored time with ${name} ${side} ${level} mmHg`,
      unit: '1',
      definition: `Hours of ${name} ${side} ${level} mmHg divided by the monitored hours of ${name}.`,
      read: (measures) => Math.min(1, hours(sums(measures)) / sums(measures).hours),
    },
    {
      ...common,
      key: `${channel}Dose${past}${level}MmHgHours`,
      title: `Dose of ${name} ${side} ${level} mmHg`,
      unit: 'mm[Hg].h',
      definition: `Integral of max(0, ${distance} mmHg) over the monitored time.`,
      read: (measures) => dose(sums(measures)),
    },
    {
      ...common,
      key: `${channel}DosePerHour${past}${level}MmHg`,
      title: `Dose of ${name} ${side} ${level} mmHg per monitored hour`,
      unit: 'mm[Hg]',
      definition: `Dose of ${name} ${side} ${level} mmHg divided by the monitored hours of ${name}.`,
      read: (measures) => dose(sums(measures)) / sums(measures).hours,
    },
  ];
}
