import { type Bump, MINUTE } from './series.js';
import { type CaseFiles, files, log, OSLO } from './unit-files.js';

/** A Monday, 08:00 local. */
const FIRST = Date.parse('2031-05-05T08:00:00+02:00');
const WEEK = 7 * 24 * 60 * MINUTE;
const HOURS = 6;

const idOf = (i: number): string => String(501 + i);
const bedOf = (i: number): string => `Bed ${(i % 4) + 1}`;
/** Minutes from the first patient's first row; a patient a week. */
const at = (i: number, minute: number): number => (i * WEEK) / MINUTE + minute;
const iso = (ms: number): string => new Date(ms).toISOString();

/** ICP: a rise of 14 min, one of 3, a cough, one of 44 min; in every second patient CPP falls for 15 min. */
const rises: readonly Bump[] = [
  { at: 40, minutes: 14, mmHg: 16 },
  { at: 120, minutes: 3, mmHg: 15 },
  { at: 180, minutes: 0.45, mmHg: 34, flank: 0 },
  { at: 220, minutes: 44, mmHg: 17 },
];

type LogRow = [bed: string, ...(number | string)[]];

const alarm = (
  i: number,
  minute: number,
  minutes: number,
  acknowledged: number | null,
  what = 'ICP high',
  limit = '22',
): LogRow => [
  bedOf(i),
  at(i, minute),
  at(i, minute + minutes),
  acknowledged === null ? '' : at(i, minute + acknowledged),
  what,
  limit,
  'High',
  'N1',
];

/** What the monitors raised; the later rise had no alarm in every third patient and a late one in the others. */
const alarmsOf = (i: number): LogRow[] => [
  alarm(i, 43, 8, 1 + (i % 3)),
  alarm(i, 121, 2, i % 2 === 0 ? 1 : null),
  alarm(i, 180.25, 0.5, null),
  ...(i % 3 === 2 ? [] : [alarm(i, 236, 14, 3)]),
  ...(i % 2 === 0 ? [alarm(i, 291, 8, 2, 'CPP low', '60')] : []),
];

/** Rows that cannot be used or judged, each for another reason. */
const badRows = (): LogRow[] => [
  alarm(0, 43, 8, 1),
  alarm(0, 60, 2, -1),
  ['Bed 9', at(0, 61), '', '', 'ICP high', '22', 'High', ''],
  ['Bed 1', 'soon', '', '', 'ICP high', '22', 'High', ''],
  ['Bed 1', at(0, 62), '', '', 'XQZ', '', 'Low', ''],
  ['Bed 1', at(0, 63), '', '', 'HR high', '', 'Low', ''],
  ['Bed 1', at(0, 420), '', '', 'ICP high', '22', 'High', ''],
  ['Bed 1', at(0, 121.5), '', '', 'ICP high', '', 'High', ''],
];

const careOf = (i: number): LogRow[] => [
  [bedOf(i), at(i, 43 + (i < 6 ? 7 : 3)), 'Hypertonic saline 3 %'],
  ...(i % 4 === 1 ? ([[bedOf(i), at(i, 122), 'Propofol bolus']] as LogRow[]) : []),
  [bedOf(i), at(i, 170), 'Turned to left side'],
  ...(i % 2 === 0 ? ([[bedOf(i), at(i, 296), 'Noradrenaline increased']] as LogRow[]) : []),
];

/**
 * A unit for an alarm audit: a patient a week for 6 h, with rises that alarms told of in time, late or not at all, the
 * logs by bed, and rows of the alarm log that cannot be used.
 *
 * @param audit what the pipeline file says under audit, as YAML in one line
 */
export function auditedUnit(patients: number, audit: string): CaseFiles {
  const all = [...Array(patients).keys()];
  const start = iso(FIRST);
  return {
    'unit.yaml': `title: Lantern Bay neuro intensive care (invented), alarm audit\nexports: exports\ntimezone: ${OSLO}\nperiod: all\nalarms: alarms.csv\ncare: care.csv\noccupancy: beds.csv\ncohort: cohort.csv\naudit: ${audit}\nreport: audit\n`,
    ...files(
      all.map((i) => ({
        id: idOf(i),
        zone: OSLO,
        start: iso(FIRST + i * WEEK),
        hours: HOURS,
        everySeconds: 10,
        icp: { level: 12, bumps: rises },
        map: { level: 86, bumps: i % 2 === 0 ? [{ at: 288, minutes: 15, mmHg: -26 }] : [] },
      })),
    ),
    'alarms.csv': log('Bed,Onset,Ended,Acknowledged,Alarm,Limit (mmHg),Priority,Nurse', start, [
      ...all.flatMap(alarmsOf),
      ...badRows(),
    ]),
    'care.csv': log('Bed,Start,Event', start, all.flatMap(careOf)),
    'beds.csv': log(
      'Bed,Patient,From,To',
      start,
      all.map((i) => [bedOf(i), idOf(i), at(i, -60), at(i, 60 * (HOURS + 2))]),
    ),
    'cohort.csv': log(
      'Patient,Age (years),Death',
      start,
      all.map((i) => [idOf(i), String(40 + i), i === 1 ? at(i, 246) : 'no']),
    ),
  };
}

/** Few patients, so that nothing has an interval. */
export const alarmAudit = (): CaseFiles =>
  auditedUnit(
    4,
    '{changed: {date: "2031-05-16", what: new alarm protocol}, present: {limitMmHg: 22, delaySeconds: 60}, whatIf: {limitsMmHg: {from: 18, to: 30, step: 4}, delayMinutes: {from: 0, to: 8, step: 2}}}',
  );
