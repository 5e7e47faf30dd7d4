import type { ComponentChildren, JSX } from 'preact';
import { Table } from '../page/table.js';
import type { AuditResult } from '../results-audit.js';
import type { EstimateResult } from '../results-estimate.js';
import { NONE, share } from '../words.js';
import { wholeTime } from './audit-sentence.js';
import { WithBounds } from './with-bounds.js';

const HIDDEN = 'not shown';

const countOf = (value: number | null): string => (value === null ? HIDDEN : String(value));

const decimals = (value: number): string => (value >= 9.95 ? value.toFixed(0) : value.toFixed(1));

/** A figure and below it its interval; the unit of both stands in the figure. */
function estimated(figure: EstimateResult | undefined, text: (value: number) => string): ComponentChildren {
  if (!figure || figure.value === null) return NONE;
  const { value, lower, upper } = figure;
  const bounds =
    lower === null || upper === null ? '' : `${text(lower)} to ${text(upper)}`.replaceAll(' %', '');
  return <WithBounds value={text(value)} bounds={bounds} />;
}

/** The figures that a meeting asks for first, a column a pressure. */
export function AuditShortTable({ audit }: { audit: AuditResult }): JSX.Element {
  const { channels, log } = audit.alarms;
  const clocks = channels.map(({ channel }) => ({
    treated: wholeTime(audit.response, channel, 'treated'),
    acknowledged: wholeTime(audit.response, channel, 'acknowledged'),
    resolved: wholeTime(audit.response, channel, 'resolved'),
  }));
  const within = (i: number, minutes: number): EstimateResult | undefined =>
    clocks[i].treated?.shares.find((one) => one.minutes === minutes)?.share;
  type Cell = (i: number) => ComponentChildren;
  const ofLog: [string, Cell][] =
    log === null
      ? []
      : [
          ['alarms', (i) => countOf(channels[i].alarms)],
          ['alarms a monitored patient-day', (i) => estimated(channels[i].perDay, decimals)],
          ['with a sustained episode', (i) => estimated(channels[i].sustained.ofAll.byPatients, share)],
          [
            'the same, with those that a treatment cut short',
            (i) => estimated(channels[i].sustainedOrCutShort.ofAll.byPatients, share),
          ],
        ];
  const ofNotice: [string, Cell][] =
    log === null
      ? []
      : [
          ['of which no alarm told', (i) => countOf(channels[i].notices.none)],
          ['of which a late alarm told', (i) => countOf(channels[i].notices.late)],
          [
            'median time to acknowledgement, min',
            (i) => estimated(clocks[i].acknowledged?.medianMinutes, decimals),
          ],
        ];
  const rows: [string, Cell][] = [
    ['monitored patient-days', (i) => decimals(channels[i].monitoredDays)],
    ...ofLog,
    ['sustained episodes', (i) => countOf(channels[i].episodes)],
    ...ofNotice,
    ['median time to first treatment, min', (i) => estimated(clocks[i].treated?.medianMinutes, decimals)],
    ['treated within 15 min', (i) => estimated(within(i, 15), share)],
    [
      'median time from rule met to resolved, min',
      (i) => estimated(clocks[i].resolved?.medianMinutes, decimals),
    ],
  ];
  return (
    <Table
      caption="In short; below a figure its 95 % interval over patients, where there are 10 or more"
      kind="wraps"
      columns={[
        { head: 'What' },
        ...channels.map(({ channel }) => ({ head: channel.toUpperCase(), number: true })),
      ]}
      rows={rows.map(([name, cell]) => ({ key: name, cells: [name, ...channels.map((_, i) => cell(i))] }))}
    />
  );
}
