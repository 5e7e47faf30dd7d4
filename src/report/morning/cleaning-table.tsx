import type { JSX } from 'preact';
import type { Targets } from '../../summarize/targets.js';
import { type Column, type Row, Table } from '../page/table.js';
import type { RecordingResult } from '../results-schema.js';
import { ruleTitle } from '../rule-title.js';
import { shortChannel } from '../short-channel.js';
import { dose, duration, NONE, seconds, share } from '../words.js';

type Take = RecordingResult['cleaning']['takes'][number];
type Figures = { readonly [Key in keyof Take['without']]: number | null };

const gradeText = ({ grade, staysIn }: Take): string =>
  grade === 'removed' ? 'removed' : staysIn ? 'suspect, stays in' : 'suspect, left out';

const figuresOf = (icp: RecordingResult['icp'], cpp: RecordingResult['cpp']): Figures => ({
  icpHoursAboveThreshold: icp.hoursAboveThreshold,
  icpDoseMmHgHours: icp.doseMmHgHours,
  cppHoursBelowFloor: cpp.hoursBelowFloor,
  cppDoseBelowFloorMmHgHours: cpp.doseBelowFloorMmHgHours,
});

/** Columns of the burden: what each is called, and how its figures are written. */
const burdenColumns = (
  { icpThresholdMmHg, cppFloorMmHg }: Targets,
  hasCpp: boolean,
): { key: keyof Figures; head: string; write: (value: number | null) => string }[] => [
  { key: 'icpHoursAboveThreshold', head: `ICP above ${icpThresholdMmHg}`, write: duration },
  { key: 'icpDoseMmHgHours', head: 'Dose, mmHg·h', write: dose },
  ...(hasCpp
    ? ([
        { key: 'cppHoursBelowFloor', head: `CPP below ${cppFloorMmHg}`, write: duration },
        { key: 'cppDoseBelowFloorMmHgHours', head: 'CPP dose, mmHg·h', write: dose },
      ] as const)
    : []),
];

/** Figures that differ by less are the same. */
const SAME = 1e-9;
const NO_TAKE = ['', '', '', ''];

/** Burden as exported, cleaned, and with each rule off in turn; beside each rule what it took of the period. */
export function CleaningTable({
  result,
  targets,
}: {
  result: RecordingResult;
  targets: Targets;
}): JSX.Element {
  const { icp, cpp, icpRaw, cppRaw, icpOtherWay, cppOtherWay, cleaning, monitoredHours } = result;
  const burden = burdenColumns(targets, monitoredHours.map > 0);
  const cleaned = figuresOf(icp, cpp);
  const written = (figures: Figures): string[] => burden.map(({ key, write }) => write(figures[key]));
  /** What is not known cleaned is not known without a rule either. */
  const beside = (figures: Figures): string[] =>
    burden.map(({ key, write }) => {
      const [now, other] = [cleaned[key], figures[key]];
      if (now === null || other === null) return NONE;
      return Math.abs(other - now) < SAME ? 'the same' : write(other);
    });
  const row = (name: string, cells: readonly string[], kind?: Row['kind']): Row => ({
    key: name,
    kind,
    cells: [name, ...cells],
  });
  const rest = (name: string, hours: number, part: number): Row =>
    row(name, ['', '', duration(hours), share(part), ...burden.map(() => '')]);
  const rowsOf = ({ channel, ...account }: RecordingResult['cleaning']['channels'][number]): Row[] => {
    const name = shortChannel(channel);
    return [
      ...cleaning.takes
        .filter((take) => take.channel === channel)
        .map((take) => ({
          ...row(`${name}: ${ruleTitle(take.rule)}`, [
            gradeText(take),
            String(take.intervals),
            seconds(take.hours * 3_600_000),
            share(take.shareOfPeriod),
            ...beside(take.without),
          ]),
          key: `${name} ${take.rule} ${take.grade} ${take.staysIn}`,
        })),
      rest(`${name}: no data`, account.noDataHours, account.noDataShare),
      rest(`${name}: kept`, account.keptHours, account.keptShare),
    ];
  };
  const columns: Column[] = [
    { head: 'What was taken' },
    { head: 'How' },
    { head: 'Times', number: true },
    { head: 'Time', number: true },
    { head: 'Share', number: true },
    ...burden.map(({ head }) => ({ head, number: true })),
  ];
  return (
    <Table
      wraps
      caption="Beside each rule, what it took, and the burden with this rule off and all others on: where two rules take the same, leaving one out changes little. Each second counts for the first rule that took it, so that removed, left out, no data and kept add up."
      columns={columns}
      rows={[
        row('As exported', [...NO_TAKE, ...written(figuresOf(icpRaw, cppRaw))]),
        row('Cleaned', [...NO_TAKE, ...written(cleaned)], 'past'),
        ...(icpOtherWay && cppOtherWay
          ? [
              row('Suspect stretches the other way', [
                ...NO_TAKE,
                ...beside(figuresOf(icpOtherWay, cppOtherWay)),
              ]),
            ]
          : []),
        ...cleaning.channels.flatMap(rowsOf),
      ]}
    />
  );
}
