import { ZoneClock } from '../../../src/recording/zone.js';
import { type Bump, exportOf, MINUTE } from './series.js';
import { alarmLog, type CaseFiles, careLog, EVENING, files, NIGHT, OSLO, unit } from './unit-files.js';

/** Coughs of two samples. */
const coughs = (minutes: readonly number[]): Bump[] =>
  minutes.map((at) => ({ at, minutes: 0.45, mmHg: 34, flank: 0 }));

/** Rows of a table of marks as a person has filled it in. */
const reviewed = (
  rows: readonly (readonly [
    patient: string,
    channel: string,
    from: number,
    to: number,
    direction: string,
    decision: string,
    reviewer: string,
  ])[],
): string => {
  const clock = new ZoneClock(OSLO);
  const at = (minute: number): string => clock.format(Date.parse(EVENING) + minute * MINUTE);
  return `patient,channel,rule,start,end,grade,direction,evidence,decidedBy,decision,reviewer\n${rows
    .map(
      ([patient, channel, from, to, direction, decision, reviewer]) =>
        `${patient},${channel},,${at(from)},${at(to)},,${direction},,,${decision},${reviewer}\n`,
    )
    .join('')}`;
};

export const decisions = (): CaseFiles => ({
  'unit.yaml': unit('overrides: reviewed.csv\n'),
  ...files([
    {
      ...NIGHT,
      id: '111',
      everySeconds: 15,
      icp: {
        level: 13,
        bumps: [
          ...coughs([60, 61, 180, 333, 500]),
          { at: 240, minutes: 30, mmHg: 15 },
          { at: 400, minutes: 50, mmHg: -16, flank: 0 },
        ],
      },
      map: { level: 84, bumps: [{ at: 600, minutes: 3, mmHg: 60, flank: 0 }] },
    },
    { ...NIGHT, id: '112', everySeconds: 60, icp: { level: 11 }, map: { level: 86 } },
  ]),
  'reviewed.csv': reviewed([
    ['111', 'icp', 60, 60.5, '', 'keep', 'A. B.'],
    ['111', 'icp', 240, 255, '', 'remove', 'A. B.'],
    ['111', 'icp', 255, 270, 'up', 'suspect', 'C. D.'],
    ['111', 'icp', 400, 450, '', 'keep', 'C. D.'],
    ['111', 'map', 300, 330, '', 'remove', 'A. B.'],
  ]),
});

/** An export as monitors that write a file an hour leave it. */
function byHour(id: string, [header, ...rows]: readonly string[]): CaseFiles {
  const byName = new Map<string, string[]>();
  for (const row of rows) {
    const name = `exports/${id}-${row.slice(5, 13).replace(/\D/g, '')}.csv`;
    if (row !== '') byName.set(name, [...(byName.get(name) ?? [header]), row]);
  }
  return Object.fromEntries([...byName].map(([name, lines]) => [name, `${lines.join('\n')}\n`]));
}

/** All that a morning page may have to say at once. */
export function crowdedPage(): CaseFiles {
  const episodes = [35, 110, 190, 260, 330, 480, 560, 640].map(
    (at, i): Bump => ({ at, minutes: 16 + 4 * (i % 3), mmHg: 15 + 3 * (i % 3) }),
  );
  const low = [80, 160, 300, 385, 440, 610, 690].map((at): Bump => ({ at, minutes: 9, mmHg: -17, flank: 0 }));
  const text = exportOf({
    ...NIGHT,
    id: '131',
    everySeconds: 15,
    icp: {
      level: 13,
      bumps: [...episodes, ...low, ...coughs([20, 21, 100, 150, 230, 290, 410, 530, 590, 660, 705])],
    },
    drain: {
      beside: -1,
      bumps: [
        { at: 62, minutes: 80, mmHg: -8, flank: 0 },
        { at: 225, minutes: 80, mmHg: -8, flank: 0 },
        { at: 360, minutes: 20, mmHg: -9, flank: 0 },
        { at: 430, minutes: 290, mmHg: -8, flank: 0 },
      ],
    },
    map: {
      level: 79,
      bumps: [
        { at: 315, minutes: 1, mmHg: 70, flank: 0 },
        { at: 500, minutes: 60, mmHg: -12 },
      ],
    },
    blank: [{ of: 'icp', from: 215, to: 222 }],
    zeroed: [{ from: 420, to: 424 }],
  });
  const lines = text.split('\n');
  // Two times that stand twice and disagree, and a cell that is no number.
  lines.splice(500, 0, lines[499].replace(/,[^,]*,/, ',70,'));
  lines[900] = lines[900].replace(/,[^,]*,/, ',12..4,');
  return {
    'unit.yaml': unit(
      'care: care.csv\nalarms: alarms.csv\noverrides: reviewed.csv\ncolumns: {icp: {header: ICP (mmHg), source: probe}, icpDrain: EVD (mmHg)}\nexpected: ["131", "132"]\npatient: {fileName: "^([0-9]+)"}\n',
    ),
    ...byHour('131', lines),
    'care.csv': careLog(EVENING, [
      ...[40, 115, 195, 265, 335, 485].map((at): [string, number, string, string] => [
        '131',
        at,
        '',
        at % 2 === 0 ? 'osmotherapy over 15 min' : 'CSF drained 5 mL',
      ]),
      ['131', 98, 'Turned to left side', ''],
      ['131', 229, 'Suctioned', ''],
      ['131', 360, 'EVD opened', ''],
      ['131', 380, 'EVD closed', ''],
      ['131', 420, 'ICP zeroed', ''],
      ['131', 450, 'Mouth care', ''],
    ]),
    'alarms.csv': alarmLog(
      EVENING,
      episodes.map(({ at, minutes }): [string, number, number] => ['131', at + 3, minutes - 6]),
    ),
    'reviewed.csv': reviewed([
      ['131', 'icp', 20, 21, '', 'keep', 'A. B.'],
      ['131', 'icp', 80, 89, 'up', 'suspect', 'A. B.'],
      ['131', 'icp', 190, 200, '', 'remove', 'A. B.'],
      ['131', 'icp', 260, 266, '', 'remove', 'C. D.'],
      ['131', 'icp', 480, 490, 'up', 'suspect', 'C. D.'],
      ['131', 'icp', 640, 645, 'down', 'suspect', 'E. F.'],
      ['131', 'map', 315, 316, '', 'keep', 'E. F.'],
      ['131', 'map', 510, 520, '', 'remove', 'E. F.'],
    ]),
  };
}
