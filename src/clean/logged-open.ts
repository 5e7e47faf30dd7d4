import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import { entriesOf } from './evidence.js';

/** A stretch of time in which the care log calls the drain open, milliseconds UTC. */
export interface LoggedOpen extends Interval {
  /** False where no closing is logged: then it ends with the recording. */
  readonly isClosed: boolean;
}

/** From logged open to logged closed, or to the end of the data. */
export function loggedOpen(recording: Pick<Recording, 'care' | 'extent'>): LoggedOpen[] {
  const spans: LoggedOpen[] = [];
  let openedAt: number | null = null;
  const close = (end: number, isClosed = true): void => {
    if (openedAt !== null && openedAt <= end) spans.push({ start: openedAt, end, isClosed });
    openedAt = null;
  };
  for (const { start, end, kinds } of entriesOf(recording, 'drainOpen', 'drainClosed')) {
    if (kinds.includes('drainClosed')) close(start);
    else openedAt ??= start;
    if (kinds.includes('drainOpen') && end !== null) close(end);
  }
  close(recording.extent.end, false);
  return spans;
}
