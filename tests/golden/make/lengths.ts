import { type Bump, exportOf, packed } from './series.js';
import { alarmLog, type CaseFiles, careLog, EVENING, files, NIGHT, OSLO, unit } from './unit-files.js';

export function oneHour(): CaseFiles {
  const start = '2031-04-02T02:00:00+02:00';
  const common = { zone: OSLO, start, hours: 3, everySeconds: 15 };
  return {
    'unit.yaml': unit(
      'period: {from: "2031-04-02 03:00", to: "2031-04-02 04:00"}\ncare: care.csv\nalarms: alarms.csv\n',
    ),
    ...files([
      {
        ...common,
        id: '41',
        icp: { level: 14, bumps: [{ at: 80, minutes: 14, mmHg: 16 }] },
        map: { level: 84 },
      },
      { ...common, id: '42', icp: { level: 9 }, map: { level: 88 } },
    ]),
    'care.csv': careLog(start, [
      ['41', 86, '', 'osmotherapy'],
      ['42', 70, 'Turned to left side', ''],
    ]),
    'alarms.csv': alarmLog(start, [['41', 83, 9]]),
  };
}

export function fourteenDays(): CaseFiles {
  const start = '2031-04-01T08:00:00+02:00';
  const DAY = 24 * 60;
  const episodes = [0.4, 1.2, 1.25, 3.6, 5.1, 6.6, 7.02, 9.3, 11.8, 13.4].map(
    (day, i): Bump => ({ at: Math.round(day * DAY), minutes: 14 + 9 * (i % 4), mmHg: 14 + 2 * (i % 5) }),
  );
  return {
    'unit.yaml': unit(
      'period: all\ncare: care.csv\nalarms: alarms.csv\ncolumns: {icp: {header: EVD (mmHg), source: drain}}\n',
    ),
    'exports/51.csv.gz': packed(
      exportOf({
        id: '51',
        zone: OSLO,
        start,
        hours: 14 * 24,
        everySeconds: 60,
        icp: {
          level: 13,
          bumps: episodes,
        },
        map: { level: 82, bumps: [{ at: 8 * DAY, minutes: 500, mmHg: -14 }] },
        blank: [
          { of: 'icp', from: 2 * DAY, to: 2 * DAY + 95 },
          { of: 'map', from: 10 * DAY, to: 10.7 * DAY },
        ],
        open: [{ from: 4 * DAY, to: 4 * DAY + 180 }],
        zeroed: [{ from: 6 * DAY + 60, to: 6 * DAY + 64 }],
      }).replace('ICP (mmHg)', 'EVD (mmHg)'),
    ),
    'care.csv': careLog(start, [
      ...episodes.map(({ at }, i): [string, number, string, string] => [
        '51',
        at + 6,
        '',
        i % 2 === 0 ? 'osmotherapy' : 'propofol bolus',
      ]),
      ['51', 4 * DAY, 'EVD opened', ''],
      ['51', 4 * DAY + 180, 'EVD closed', ''],
      ['51', 6 * DAY + 60, 'ICP zeroed', ''],
    ]),
    'alarms.csv': alarmLog(
      start,
      episodes.map(({ at, minutes }): [string, number, number] => ['51', at + 3, minutes - 5]),
    ),
  };
}

export function fortyEpisodes(): CaseFiles {
  const bumps = Array.from(
    { length: 40 },
    (_, i): Bump => ({ at: 20 + 17 * i, minutes: 9, mmHg: 18 + 1.5 * (i % 7) }),
  );
  return {
    'unit.yaml': unit('alarms: alarms.csv\n'),
    ...files([{ ...NIGHT, id: '61', everySeconds: 15, icp: { level: 12, bumps }, map: { level: 80 } }]),
    'alarms.csv': alarmLog(
      EVENING,
      bumps.map(({ at }): [string, number, number] => ['61', at + 2, 5]),
    ),
  };
}

export function autumnNight(): CaseFiles {
  const start = '2031-10-25T19:00:00+02:00';
  return {
    'unit.yaml': unit('care: care.csv\n'),
    ...files([
      {
        id: '71',
        zone: OSLO,
        start,
        hours: 13,
        everySeconds: 60,
        icp: { level: 13, bumps: [{ at: 455, minutes: 60, mmHg: 15 }] },
        map: { level: 83, bumps: [{ at: 460, minutes: 40, mmHg: -10 }] },
      },
    ]),
    'care.csv': careLog(start, [['71', 100, 'Turned to right side', '']]),
  };
}
