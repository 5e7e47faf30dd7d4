import type { CareEntry } from '../recording/care.js';
import type { Interval } from '../recording/interval.js';

/** Nurses write an entry down a little before or some minutes after the deed. Common practice, no source. */
export const BEFORE_ENTRY_MS = 2 * 60_000;
export const AFTER_ENTRY_MS = 10 * 60_000;

/** The time in which what an entry tells of may show in a signal: up to the end that it gives, where that is later. */
export const windowOf = ({ start, end }: CareEntry): Interval => ({
  start: start - BEFORE_ENTRY_MS,
  end: Math.max(start + AFTER_ENTRY_MS, end ?? start),
});
