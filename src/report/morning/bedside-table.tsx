import type { JSX } from 'preact';
import { Table } from '../page/table.js';
import { clockSeconds, dayAndSeconds } from '../words.js';
import type { BedsideEvent } from './bedside-events.js';

interface BedsideTableProps {
  readonly events: readonly BedsideEvent[];
  readonly isLong: boolean;
  readonly caption?: string;
}

/** What the logs tell, a row each; nothing where there is nothing. */
export function BedsideTable({ events, isLong, caption }: BedsideTableProps): JSX.Element | null {
  if (events.length === 0) return null;
  const at = isLong ? dayAndSeconds : clockSeconds;
  return (
    <Table
      caption={caption}
      columns={[{ head: 'Time' }, { head: 'What' }, { head: 'In the log' }]}
      rows={events.map((event, i) => ({
        key: `${event.at} ${event.what} ${i}`,
        cells: [at(event.at), event.what, event.words],
      }))}
    />
  );
}
