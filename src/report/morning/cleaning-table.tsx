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

const timeOf = (hours: number): string => seconds(hours * 3_600_000);

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

const NO_TAKE = ['', '', '', ''];

const CAPTION =
  'Beside each rule, what it took, and the burden with this rule off and all others on; "the same" as it is printed. Where two rules take the same, leaving one out changes little. Each second counts for the first rule that took it, so that removed, left out, no data and kept add up. ';
const STAYS_IN_TOO =
  'What is "suspect, stays in" has a share of its own and stands in "kept" a second time: leave it out of the sum. ';
const NOT_SHOWN =
  'Rules whose stretches others had taken already, or which hold no time, are not shown: see tables/cleaning.csv.';

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
      return write(other) === write(now) ? 'the same' : write(other);
    });
  const row = (name: string, cells: readonly string[], kind?: Row['kind']): Row => ({
    key: name,
    kind,
    cells: [name, ...cells],
  });
  const rest = (name: string, hours: number, part: number): Row =>
    row(name, ['', '', duration(hours), share(part), ...burden.map(() => '')]);
  /** A row of no time that changes nothing would only raise questions. */
  const isShown = ({ hours, without }: Take): boolean =>
    timeOf(hours) !== '0 s' || beside(without).some((cell) => cell !== 'the same' && cell !== NONE);
  const shown = cleaning.takes.filter(isShown);
  const rowsOf = ({ channel, ...account }: RecordingResult['cleaning']['channels'][number]): Row[] => {
    const name = shortChannel(channel);
    return [
      ...shown
        .filter((take) => take.channel === channel)
        .map((take) => ({
          ...row(`${name}: ${ruleTitle(take.rule)}`, [
            gradeText(take),
            String(take.intervals),
            timeOf(take.hours),
            share(take.shareOfPeriod),
            ...beside(take.without),
          ]),
          key: `${name} ${take.rule} ${take.grade} ${take.staysIn}`,
        })),
      ...(account.noDataHours > 0
        ? [rest(`${name}: no data`, account.noDataHours, account.noDataShare)]
        : []),
      rest(`${name}: ${cleaning.isOff ? 'known' : 'kept'}`, account.keptHours, account.keptShare),
    ];
  };
  const isNothing = !cleaning.isOff && cleaning.takes.length === 0 && result.decisions.length === 0;
  const columns: Column[] = [
    { head: cleaning.isOff || isNothing ? 'Where the time went' : 'What was taken' },
    { head: 'How' },
    { head: 'Times', number: true },
    { head: 'Time', number: true },
    { head: 'Share', number: true },
    ...burden.map(({ head }) => ({ head, number: true })),
  ];
  const rows = [
    row(isNothing ? 'As exported and cleaned' : 'As exported', [
      ...NO_TAKE,
      ...written(figuresOf(icpRaw, cppRaw)),
    ]),
    ...(cleaning.isOff || isNothing ? [] : [row('Cleaned', [...NO_TAKE, ...written(cleaned)], 'past')]),
    ...(icpOtherWay && cppOtherWay
      ? [row('Suspect stretches the other way', [...NO_TAKE, ...beside(figuresOf(icpOtherWay, cppOtherWay))])]
      : []),
    ...cleaning.channels.flatMap(rowsOf),
  ];
  // How, and how often, is said of what was taken only.
  const isTaken = (_: unknown, i: number): boolean => !(cleaning.isOff || isNothing) || (i !== 1 && i !== 2);
  return (
    <Table
      kind="wraps"
      caption={
        cleaning.isOff
          ? 'No rule was on and nobody decided anything: the burden as exported, and where the time went.'
          : isNothing
            ? 'Nothing was taken: no rule found anything to take, and nobody decided anything.'
            : [
                CAPTION,
                shown.some(({ staysIn }) => staysIn) ? STAYS_IN_TOO : '',
                shown.length < cleaning.takes.length ? NOT_SHOWN : '',
              ].join('')
      }
      columns={columns.filter(isTaken)}
      rows={rows.map((one) => ({ ...one, cells: one.cells.filter(isTaken) }))}
    />
  );
}
