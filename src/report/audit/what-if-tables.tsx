import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import type { AuditWhatIf, RatedResult } from '../results-audit-what-if.js';
import { doseCell, NONE, share, timesOf } from '../words.js';
import { Roomy } from './roomy.js';
import { shortNumber } from './what-if-maps.js';
import { alarmsWords, minutesOf, missedWords, rawCell, type Setting, shareWords } from './what-if-words.js';

const countOf = (count: number | null): string => (count === null ? NONE : String(count));

const SETTING = [
  { head: 'Limit, mmHg', number: true },
  { head: 'Delay, min', number: true },
];

const settingCells = ({ limitMmHg, delaySeconds }: Setting): string[] => [
  String(limitMmHg),
  minutesOf(delaySeconds),
];

const FIGURES = [
  { head: 'Alarms a patient-day (95 % interval)', number: true },
  { head: 'Of them in sustained episodes', number: true },
  { head: 'Episodes caught (95 % interval)', number: true },
  { head: 'Median min to notice', number: true },
  { head: 'Median dose before it, mmHg·h', number: true },
  { head: 'Long episodes missed', number: true },
];

function figureCells(part: AuditWhatIf, rated: RatedResult): string[] {
  const cell = rawCell(part, rated);
  return [
    alarmsWords(rated.alarmsPerDay),
    cell.sustainedShare === null ? NONE : share(cell.sustainedShare),
    shareWords(rated.caughtShare),
    shortNumber(cell.medianNoticeMinutes),
    doseCell(cell.medianDoseMmHgHours),
    countOf(cell.longMissed),
  ];
}

const ratedOf = (part: AuditWhatIf, setting: Setting): RatedResult | undefined =>
  [part.presentRated, ...part.choices].find(
    (one): one is RatedResult =>
      one !== null && one.limitMmHg === setting.limitMmHg && one.delaySeconds === setting.delaySeconds,
  );

const ASKED = [
  ['fewestAlarms', 'Fewest alarms that catch as many'],
  ['mostCaught', 'Most caught for no more alarms'],
  ['shortestNotice', 'Soonest notice, neither worse'],
] as const;

/** The present setting, and the best of the others in three ways. */
export function AgainstPresentTable({ part }: { part: AuditWhatIf }): JSX.Element | null {
  const { presentRated, againstPresent } = part;
  if (presentRated === null || againstPresent === null) return null;
  const rows = ASKED.map(([key, name]) => {
    const setting = againstPresent[key];
    const rated = setting === null ? undefined : ratedOf(part, setting);
    return {
      key,
      cells:
        setting === null || rated === undefined
          ? [`${name}: none of those tried`, ...[...SETTING, ...FIGURES].map(() => NONE)]
          : [name, ...settingCells(setting), ...figureCells(part, rated)],
    };
  });
  return (
    <Table
      kind="wraps"
      caption="Against the present setting, on ICP as exported"
      columns={[{ head: 'Asked for' }, ...SETTING, ...FIGURES]}
      rows={[
        {
          key: 'present',
          cells: ['Present setting', ...settingCells(presentRated), ...figureCells(part, presentRated)],
        },
        ...rows,
      ]}
    />
  );
}

/** Settings to choose among, by alarms. */
export function ChoicesTable({
  part,
  choices,
  caption,
}: {
  part: AuditWhatIf;
  choices: readonly RatedResult[];
  caption: string;
}): JSX.Element {
  return (
    <Table
      kind="wraps"
      caption={caption}
      columns={[...SETTING, ...FIGURES]}
      rows={choices.map((one) => ({
        key: `${one.limitMmHg} ${one.delaySeconds}`,
        cells: [...settingCells(one), ...figureCells(part, one)],
      }))}
    />
  );
}

type Missed = NonNullable<AuditWhatIf['missedLong']>[number];

/** Long episodes, each with the settings that miss it. */
export function MissedTable({
  part,
  missed,
  period,
}: {
  part: AuditWhatIf;
  missed: readonly Missed[];
  period: { start: string; end: string };
}): JSX.Element {
  const at = timesOf(period);
  return (
    <Table
      columns={[
        { head: 'Patient' },
        { head: 'Began', number: true },
        { head: 'Minutes', number: true },
        { head: 'Missed with a limit of' },
      ]}
      rows={missed.map((one) => ({
        key: `${one.patient} ${one.start}`,
        cells: [
          one.patient,
          at(one.start),
          one.minutes.toFixed(0),
          <Roomy key="from">{missedWords(part, one.missedFrom)}</Roomy>,
        ],
      }))}
    />
  );
}
