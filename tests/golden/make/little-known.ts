import { alarmLog, type CaseFiles, careLog, EVENING, files, NIGHT, unit } from './unit-files.js';

export const noArterialLine = (): CaseFiles => ({
  'unit.yaml': unit(''),
  ...files([
    {
      ...NIGHT,
      id: '81',
      everySeconds: 60,
      icp: { level: 12, bumps: [{ at: 200, minutes: 40, mmHg: 15 }] },
    },
    { ...NIGHT, id: '82', everySeconds: 60, icp: { level: 8 } },
  ]),
});

export const nothingKnown = (): CaseFiles => ({
  'unit.yaml': unit('care: care.csv\nalarms: alarms.csv\n'),
  ...files([
    {
      ...NIGHT,
      id: '91',
      everySeconds: 60,
      icp: { level: 12 },
      map: { level: 82 },
      blank: [{ of: 'icp', from: 0, to: 800 }],
    },
    {
      ...NIGHT,
      id: '92',
      everySeconds: 60,
      icp: { level: 14, bumps: [{ at: 300, minutes: 40, mmHg: 16 }] },
      map: { level: 82 },
      blank: [
        { of: 'icp', from: 20, to: 305 },
        { of: 'icp', from: 325, to: 800 },
        { of: 'map', from: 10, to: 800 },
      ],
    },
  ]),
  'care.csv': careLog(EVENING, [['91', 50, 'Transport to CT', '']]),
  'alarms.csv': alarmLog(EVENING, [['92', 310, 12]]),
});

export const probeAndDrain = (): CaseFiles => ({
  'unit.yaml': unit(
    'care: care.csv\ncolumns: {icp: {header: ICP (mmHg), source: probe}, icpDrain: EVD (mmHg)}\n',
  ),
  ...files([
    {
      ...NIGHT,
      id: '101',
      everySeconds: 60,
      icp: { level: 13, bumps: [{ at: 150, minutes: 35, mmHg: 14 }] },
      drain: {
        beside: -1.2,
        bumps: [
          { at: 240, minutes: 60, mmHg: -7, flank: 0 },
          { at: 420, minutes: 400, mmHg: -8, flank: 0.02 },
        ],
      },
      map: { level: 84 },
    },
  ]),
  'care.csv': careLog(EVENING, [
    ['101', 240, 'EVD opened', ''],
    ['101', 300, 'EVD closed', ''],
    ['101', 160, '', 'CSF drained 5 mL'],
  ]),
});

export const cleanNone = (): CaseFiles => ({
  'unit.yaml': unit('clean: none\n'),
  ...files([
    {
      ...NIGHT,
      id: '121',
      everySeconds: 30,
      icp: {
        level: 13,
        bumps: [
          { at: 90, minutes: 0.9, mmHg: 40, flank: 0 },
          { at: 300, minutes: 25, mmHg: 14 },
        ],
      },
      map: { level: 80 },
      zeroed: [{ from: 500, to: 503 }],
    },
  ]),
});
