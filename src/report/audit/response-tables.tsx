import type { ComponentChildren, JSX } from 'preact';
import { type Column, type Row, Table } from '../page/table.js';
import type { AuditResponse, ClockResult, PeriodResult } from '../results-audit-response.js';
import type { EstimateResult } from '../results-estimate.js';
import { NONE, share } from '../words.js';
import {
  boundsWords,
  CLOCK_WORDS,
  channelName,
  minutesWord,
  periodName,
  shareBoundsBelow,
  shareBoundsWords,
} from './response-words.js';
import { WithBounds } from './with-bounds.js';

const shareWord = ({ value }: EstimateResult): string => (value === null ? NONE : share(value));

/** In so wide a table a count that is not shown is a dash. */
const cell = (count: number | null): string => (count === null ? NONE : String(count));

const isMonth = ({ kind }: PeriodResult): boolean => kind === 'month';

const isBounded = ({ medianMinutes, shares }: PeriodResult): boolean =>
  [medianMinutes, ...shares.map(({ share: one }) => one)].some(({ lower }) => lower !== null);

interface ClockTableProps {
  readonly part: AuditResponse;
  readonly clock: ClockResult['clock'];
  /** Months alone, or all other parts of the time. */
  readonly months?: boolean;
}

const clocksOf = ({ clocks }: AuditResponse, clock: ClockResult['clock']): ClockResult[] =>
  clocks.filter((one) => one.clock === clock && one.reason === null);

function rowsOf(
  { part, clock, months = false }: ClockTableProps,
  cells: (period: PeriodResult) => ComponentChildren[],
): Row[] {
  return clocksOf(part, clock).flatMap(({ channel, periods }) =>
    periods
      .filter((period) => isMonth(period) === months)
      .map((period) => ({
        key: `${channel} ${period.kind} ${period.start}`,
        cells: [
          `${channelName(channel)}, ${periodName(period, part.nightFrom, part.nightTo)}`,
          ...cells(period),
        ],
      })),
  );
}

/** True where data reach over so long that months are told. */
export const hasMonths = (part: AuditResponse, clock: ClockResult['clock']): boolean =>
  clocksOf(part, clock).some(({ periods }) => periods.some(isMonth));

/** Counts, median and shares of one clock, a row a channel and part of the time. */
export function ClockTable(props: ClockTableProps): JSX.Element {
  const { head, overFirst } = CLOCK_WORDS[props.clock];
  const columns: Column[] = [
    { head: 'Sustained episodes' },
    { head: 'Number', number: true },
    { head: 'Patients', number: true },
    { head, number: true },
    ...(overFirst === '' ? [] : [{ head: 'Resolved first', number: true }]),
    { head: 'Died first', number: true },
    { head: 'Cut off', number: true },
    { head: 'Median, min', number: true },
    ...[5, 10, 15, 30].map((minutes) => ({ head: `Within ${minutes} min`, number: true })),
  ];
  const rows = rowsOf(props, (period) => [
    cell(period.episodes),
    cell(period.patients),
    cell(period.happened),
    ...(overFirst === '' ? [] : [cell(period.resolvedFirst)]),
    cell(period.diedFirst),
    cell(period.cutOff),
    <WithBounds
      key="median"
      value={minutesWord(period.medianMinutes.value)}
      bounds={boundsWords(period.medianMinutes, minutesWord)}
    />,
    ...period.shares.map((one) => (
      <WithBounds key={one.minutes} value={shareWord(one.share)} bounds={shareBoundsBelow(one.share)} />
    )),
  ]);
  const hasBounds = clocksOf(props.part, props.clock).some(({ periods }) => periods.some(isBounded));
  return (
    <Table
      kind="wraps"
      caption={hasBounds ? 'Below a figure its 95 % interval over patients.' : undefined}
      columns={columns}
      rows={rows}
    />
  );
}

const METHODS = { wilson: 'Wilson', logLog: 'curve' } as const;

/** Shares with the interval that takes episodes for independent, beside the one over patients. */
export function NaiveTable(props: ClockTableProps): JSX.Element {
  const columns: Column[] = [
    { head: 'Sustained episodes' },
    { head: 'Within' },
    { head: 'Share', number: true },
    { head: '95 % over patients', number: true },
    { head: '95 % as if independent', number: true },
    { head: 'By' },
  ];
  const rows = clocksOf(props.part, props.clock).flatMap(({ channel, periods }) =>
    periods
      .filter((period) => !isMonth(period))
      .flatMap((period) =>
        period.shares.map((one) => ({
          key: `${channel} ${period.kind} ${one.minutes}`,
          cells: [
            `${channelName(channel)}, ${periodName(period, props.part.nightFrom, props.part.nightTo)}`,
            `${one.minutes} min`,
            shareWord(one.share),
            shareBoundsWords(one.share) || NONE,
            shareBoundsWords(one.naive) || NONE,
            METHODS[one.naiveMethod],
          ],
        })),
      ),
  );
  return <Table columns={columns} rows={rows} />;
}
