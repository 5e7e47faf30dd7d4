import { shorten } from '../../recording/problem.js';
import type { CareRow } from './care-log.js';

/** How many entries on the head of the bed give its angle, as a sentence; null where no entry is on it. */
export function anglesIn(rows: readonly CareRow[]): string | null {
  const mine = rows.filter(({ kind, also }) => kind === 'headOfBed' || also.includes('headOfBed'));
  if (mine.length === 0) return null;
  const without = mine.filter(({ angleDegrees }) => angleDegrees === null);
  const entries = mine.length === 1 ? '1 entry' : `${mine.length} entries`;
  const said = `${mine.length - without.length} of ${entries} on the head of the bed ${mine.length === 1 ? 'gives' : 'give'} its angle`;
  if (without.length === 0) return `${said}.`;
  const [{ line, text }] = without;
  return `${said}; behind the others it is not known until one that does ("${shorten(text)}" on line ${line} is the first without).`;
}
