import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import { clockOffset, clockSeconds, dayAndSeconds, isOverADay } from '../words.js';
import type { BedsideEvent } from './bedside-events.js';

/** More rows than this are left to the table beside the report. */
const MOST = 200;

interface BedsideTableProps {
  readonly events: readonly BedsideEvent[];
  readonly period: { readonly start: string; readonly end: string };
}

/** What the logs tell, a row each; nothing where there is nothing. */
export function BedsideTable({ events, period }: BedsideTableProps): JSX.Element | null {
  if (events.length === 0) return null;
  const at = isOverADay(period) ? dayAndSeconds : clockSeconds;
  return (
    <>
      <Table
        columns={[{ head: 'Time' }, { head: 'What' }, { head: 'In the log' }]}
        rows={events.slice(0, MOST).map((event, i) => ({
          key: `${event.at} ${event.what} ${i}`,
          cells: [`${at(event.at)}${clockOffset(event.at, period)}`, event.what, event.words],
        }))}
      />
      {events.length > MOST && (
        <p class="small">
          The first {MOST} of {events.length}; tables/bedside.csv has all of them.
        </p>
      )}
    </>
  );
}
