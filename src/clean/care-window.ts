import type { CareEntry } from '../recording/care.js';
import type { Interval } from '../recording/interval.js';

/** Nurses write an entry down a little before or some minutes after the deed. Common practice, no source. */
export const BEFORE_ENTRY_MS = 2 * 60_000;
export const AFTER_ENTRY_MS = 10 * 60_000;
/** An entry that ends later than this tells of a position that was held, and not of a deed that went on. */
const LONGEST_DEED_MS = 30 * 60_000;

/** The time in which what an entry tells of may show in a signal: up to the end that it gives, where that is soon. */
export const windowOf = ({ start, end }: CareEntry): Interval => ({
  start: start - BEFORE_ENTRY_MS,
  end: Math.max(start + AFTER_ENTRY_MS, end !== null && end - start <= LONGEST_DEED_MS ? end : start),
});

/** The times around both ends of an entry that tells of a state, as of a drain: there a level may change. */
export const changesOf = (entry: CareEntry): Interval[] =>
  [entry.start, ...(entry.end === null ? [] : [entry.end])].map((at) => ({
    start: at - BEFORE_ENTRY_MS,
    end: at + AFTER_ENTRY_MS,
  }));
