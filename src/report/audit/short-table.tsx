import type { ComponentChildren, JSX } from 'preact';
import { Table } from '../page/table.js';
import type { AuditResult } from '../results-audit.js';
import type { EstimateResult } from '../results-estimate.js';
import { NONE, share } from '../words.js';
import { CHANNEL_SHORT } from './class-words.js';
import { countWord } from './count-words.js';
import { rate } from './estimate-words.js';
import { partWords, type ShortColumn, sideColumns, wholeColumns } from './short-columns.js';
import { WithBounds } from './with-bounds.js';

/** A figure and below it its interval; the unit of both stands in the figure. */
function estimated(figure: EstimateResult | undefined, text: (value: number) => string): ComponentChildren {
  if (!figure || figure.value === null) return NONE;
  const { value, lower, upper } = figure;
  const bounds =
    lower === null || upper === null ? '' : `${text(lower)} to ${text(upper)}`.replaceAll(' %', '');
  return <WithBounds value={text(value)} bounds={bounds} />;
}

const minutes = (figure: EstimateResult | undefined): ComponentChildren => estimated(figure, rate);

type Line = readonly [name: string, cell: (column: ShortColumn) => ComponentChildren];

const within15 = ({ clocks }: ShortColumn): EstimateResult | undefined =>
  clocks.treated?.shares.find((one) => one.minutes === 15)?.share;

const OF_LOG: readonly Line[] = [
  ['alarms', ({ alarms }) => countWord(alarms)],
  ['alarms a monitored patient-day', ({ perDay }) => estimated(perDay, rate)],
  ['with a sustained episode, of those one can tell', ({ sustained }) => estimated(sustained, share)],
  [
    'the same, with those that a treatment cut short',
    ({ sustainedOrCutShort }) => estimated(sustainedOrCutShort, share),
  ],
  [
    'artifacts, of those one can tell',
    ({ artifactShare }) => (artifactShare === null ? NONE : share(artifactShare)),
  ],
];

const OF_NOTICE: readonly Line[] = [
  ['of which no alarm told', ({ withoutAlarm }) => countWord(withoutAlarm)],
  ['of which a late alarm told', ({ withLateAlarm }) => countWord(withLateAlarm)],
  ['median time to acknowledgement, min', ({ clocks }) => minutes(clocks.acknowledged?.medianMinutes)],
];

/** The figures that a meeting asks for first: a column a pressure, on both sides of a change where one is marked. */
export function AuditShortTable({ audit }: { audit: AuditResult }): JSX.Element {
  const sides = sideColumns(audit);
  const columns = sides.length > 0 ? sides : wholeColumns(audit);
  const hasLog = audit.alarms.log !== null;
  const lines: readonly Line[] = [
    ['monitored patient-days', ({ monitoredDays }) => rate(monitoredDays)],
    ...(hasLog ? OF_LOG : []),
    ['sustained episodes', ({ episodes }) => countWord(episodes)],
    ...(hasLog ? OF_NOTICE : []),
    ['median time to first treatment, min', ({ clocks }) => minutes(clocks.treated?.medianMinutes)],
    ['treated within 15 min', (column) => estimated(within15(column), share)],
    ['median time from rule met to resolved, min', ({ clocks }) => minutes(clocks.resolved?.medianMinutes)],
  ];
  const at = audit.response.changed?.at ?? '';
  return (
    <Table
      caption="In short; below a figure its 95 % interval over patients, where there are 10 or more and resamples of them tell it"
      kind="wraps"
      columns={[
        { head: 'What' },
        ...columns.map(({ channel, part }) => ({
          head: part === 'all' ? CHANNEL_SHORT[channel] : `${CHANNEL_SHORT[channel]}, ${partWords(part, at)}`,
          number: true,
        })),
      ]}
      rows={lines.map(([name, cell]) => ({ key: name, cells: [name, ...columns.map(cell)] }))}
    />
  );
}
