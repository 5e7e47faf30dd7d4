import type { AuditResponse, PeriodResult } from '../results-audit-response.js';
import type { AuditTime, MeasureResult, ViewResult } from '../results-audit-time.js';
import type { Cell } from './csv.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

const plain = (name: string, says: string): TidyColumn => ({ name, unit: '', says });
const episodes = (name: string, says: string): TidyColumn => ({ name, unit: '{episodes}', says });
const CHANNEL = plain('channel', 'icp or cpp');
const CLOCK = plain('clock', 'What is waited for: acknowledged, treated or resolved');
const PATIENTS: TidyColumn = { name: 'patients', unit: '{patients}', says: 'With such episodes' };

const SHARES = [5, 10, 15, 30] as const;

const shareColumns = (minutes: number): TidyColumn[] => {
  const share = (end: string, says: string): TidyColumn => ({
    name: `within${minutes}Min${end}`,
    unit: '1',
    says: `Share within ${minutes} min${says}`,
  });
  return [
    share('', ', of all episodes'),
    share('Lower', ': lower bound, patients resampled'),
    share('Upper', ': upper bound, patients resampled'),
    share('NaiveLower', ': lower bound as if episodes were independent'),
    share('NaiveUpper', ': upper bound as if episodes were independent'),
    plain(`within${minutes}MinNaiveMethod`, 'wilson, or logLog where episodes were cut off before'),
    plain(`within${minutes}MinReason`, 'Why the share or its interval is blank'),
  ];
};

function shareCells({ shares }: PeriodResult): Record<string, Cell> {
  const cells: Record<string, Cell> = {};
  for (const { minutes, share, naive, naiveMethod } of shares) {
    const name = `within${minutes}Min`;
    cells[name] = share.value;
    cells[`${name}Lower`] = share.lower;
    cells[`${name}Upper`] = share.upper;
    cells[`${name}NaiveLower`] = naive.lower;
    cells[`${name}NaiveUpper`] = naive.upper;
    cells[`${name}NaiveMethod`] = naiveMethod;
    cells[`${name}Reason`] = share.reason;
  }
  return cells;
}

const responseTable = ({ clocks }: AuditResponse): TidyTable => ({
  name: 'response',
  says: 'A row a channel, clock and part of the time: how fast sustained episodes were acknowledged, treated and over. Blank: masked, or see the reason',
  columns: [
    CHANNEL,
    CLOCK,
    plain('period', 'all, before, after, night, day or month'),
    plain('start', 'Local time with offset, ISO 8601; of night and day that of all data'),
    plain('end', 'Local time with offset, ISO 8601'),
    PATIENTS,
    episodes('episodes', 'Sustained episodes that start in it'),
    episodes('happened', 'To which it happened'),
    episodes('resolvedFirst', 'That resolved before'),
    episodes('diedFirst', 'Of patients who died before'),
    episodes('cutOff', 'Cut off before by a gap or the end of data'),
    episodes('withoutAlarm', 'Without an alarm: their clock starts at the crossing'),
    plain('method', 'kaplanMeier where nothing came before what is waited for, else aalenJohansen'),
    { name: 'medianMinutes', unit: 'min', says: 'Until it had happened to half of all episodes' },
    { name: 'medianMinutesLower', unit: 'min', says: 'Lower bound, patients resampled' },
    { name: 'medianMinutesUpper', unit: 'min', says: 'Upper bound, patients resampled' },
    plain('medianMinutesReason', 'Why the median or its interval is blank'),
    ...SHARES.flatMap(shareColumns),
  ],
  rows: clocks.flatMap(({ channel, clock, periods }) =>
    periods.map((period) => ({
      channel,
      clock,
      period: period.kind,
      start: period.start,
      end: period.end,
      patients: period.patients,
      episodes: period.episodes,
      happened: period.happened,
      resolvedFirst: period.resolvedFirst,
      diedFirst: period.diedFirst,
      cutOff: period.cutOff,
      withoutAlarm: period.withoutAlarm,
      method: period.method,
      medianMinutes: period.medianMinutes.value,
      medianMinutesLower: period.medianMinutes.lower,
      medianMinutesUpper: period.medianMinutes.upper,
      medianMinutesReason: period.medianMinutes.reason,
      ...shareCells(period),
    })),
  ),
});

const riskTable = ({ clocks }: AuditResponse): TidyTable => ({
  name: 'risk',
  says: 'A row a channel, clock and time: what is still waited for just before it',
  columns: [
    CHANNEL,
    CLOCK,
    { name: 'minutes', unit: 'min', says: 'From the start of the clock' },
    episodes('episodes', 'Still waited for'),
    { ...PATIENTS, says: 'Whose episodes these are' },
  ],
  rows: clocks.flatMap(({ channel, clock, curve }) =>
    (curve?.atRisk ?? []).map((row) => ({ channel, clock, ...row })),
  ),
});

/** Of a measure that has no views, and of points that stand in none, a row without limits. */
const viewsOf = (measure: MeasureResult, start: string): (ViewResult | null)[] => {
  const own = measure.views.filter(({ limits }) => limits.some((one) => one.start === start));
  return own.length === 0 ? [null] : own;
};

const timeTable = ({ points, measures }: AuditTime): TidyTable => ({
  name: 'overtime',
  says: 'A row a measure, week or month, and view of it: its value with limits; one without a view where it stands in none',
  columns: [
    plain('measure', 'What is followed'),
    plain('unit', 'Of value, median and limits, in UCUM'),
    plain('point', 'Week or month, ISO 8601: 2031-W07 or 2031-02'),
    plain('start', 'Local time with offset, ISO 8601'),
    plain('end', 'Local time with offset, ISO 8601'),
    plain('part', 'Where it stands to the marked change: before, across or after; all where none is marked'),
    plain('count', 'What was counted: alarms, or episodes; blank where it is no count'),
    plain('size', 'What it is counted on: monitored patient-days, alarms or episodes'),
    plain('value', 'Count divided by size, or what the measure says'),
    plain('valueReason', 'Why the value is blank'),
    plain(
      'view',
      'all; baseline: before the change; carried: after it by the median and limits from before; rebased: after it by its own; blank in none',
    ),
    plain('median', 'The line of the run chart of the view'),
    plain('lower', 'Control limit (u-prime, p-prime or individuals chart)'),
    plain('upper', 'Control limit'),
    plain('beyond', 'above or below where it is beyond a limit'),
    plain('plainLower', 'Limit as if each one counted were independent (u or p chart)'),
    plain('plainUpper', 'Limit as if each one counted were independent'),
    plain('plainBeyond', 'above or below where it is beyond such a limit'),
  ],
  rows: measures.flatMap((measure) =>
    measure.points.flatMap((point, i) =>
      viewsOf(measure, point.start).map((view) => {
        const limits = view?.limits.find(({ start }) => start === point.start);
        return {
          measure: measure.measure,
          unit: measure.unit,
          point: points[i].name,
          start: point.start,
          end: points[i].end,
          part: points[i].part,
          count: point.count,
          size: point.size,
          value: point.value,
          valueReason: point.valueReason,
          view: view?.kind,
          median: view?.run.centreLine,
          lower: limits?.lower,
          upper: limits?.upper,
          beyond: limits?.beyond,
          plainLower: limits?.plainLower,
          plainUpper: limits?.plainUpper,
          plainBeyond: limits?.plainBeyond,
        };
      }),
    ),
  ),
});

/** The tables of how fast a unit answered, and of how that went over time. */
export const auditResponseTables = (response: AuditResponse, time: AuditTime): TidyTable[] => [
  responseTable(response),
  riskTable(response),
  timeTable(time),
];
