import { ZoneClock } from '../../../src/recording/zone.js';
import { exportOf, localTime, MINUTE, packed, type Series } from './series.js';

/** Files of a case, by path below its folder. */
export type CaseFiles = Readonly<Record<string, string | Uint8Array>>;

export const OSLO = 'Europe/Oslo';
/** 19:00 local. */
export const EVENING = '2031-04-01T19:00:00+02:00';
export const NIGHT = { zone: OSLO, start: EVENING, hours: 12 };

export const unit = (lines: string): string =>
  `title: Lantern Bay neuro intensive care (invented)\nexports: exports\ntimezone: ${OSLO}\nreport: morning\n${lines}`;

/** A log: a header, and rows whose times are minutes from a start. */
export function log(
  header: string,
  start: string,
  rows: readonly (readonly [patient: string, ...(number | string)[]])[],
): string {
  const clock = new ZoneClock(OSLO);
  const cell = (value: number | string): string =>
    typeof value === 'number' ? localTime(clock, Date.parse(start) + value * MINUTE) : value;
  return `${[header, ...rows.map((row) => row.map(cell).join(','))].join('\n')}\n`;
}

const CARE = 'Patient,Start,End,Event,Treatment';
const ALARMS = 'Patient,Onset,Ended,Acknowledged,Parameter,Direction,Limit (mmHg),Priority';

export const careLog = (
  start: string,
  rows: readonly (readonly [string, number, string, string])[],
): string =>
  log(
    CARE,
    start,
    rows.map(([patient, at, event, treatment]) => [patient, at, '', event, treatment] as const),
  );

/** Alarms of ICP above 22 mmHg; every third is not acknowledged. */
export const alarmLog = (start: string, rows: readonly (readonly [string, number, number])[]): string =>
  log(
    ALARMS,
    start,
    rows.map(
      ([patient, at, minutes], i) =>
        [patient, at, at + minutes, i % 3 === 2 ? '' : at + 1, 'ICP', 'high', '22', 'High'] as const,
    ),
  );

/** The longer ones packed. */
export const files = (series: readonly Series[]): CaseFiles =>
  Object.fromEntries(
    series.map((one): [string, string | Uint8Array] => {
      const text = exportOf(one);
      return text.length > 12_000
        ? [`exports/${one.id}.csv.gz`, packed(text)]
        : [`exports/${one.id}.csv`, text];
    }),
  );
