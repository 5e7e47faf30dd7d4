import { shorten } from '../../recording/problem.js';
import { leavesDrainOpenOrNot } from './care-words.js';

const MOST_NAMED = 3;

/** Entries that name a drain and leave it open whether it was opened or closed, as a sentence; none where there are none. */
export function unclearDrains(rows: readonly { readonly text: string }[]): string[] {
  const unclear = rows.filter(({ text }) => leavesDrainOpenOrNot(text));
  if (unclear.length === 0) return [];
  const texts = [...new Set(unclear.map(({ text }) => `"${shorten(text)}"`))];
  const more = texts.length > MOST_NAMED ? ', ...' : '';
  const one = unclear.length === 1;
  return [
    `${unclear.length} ${one ? 'entry names' : 'entries name'} a drain without saying, in words that are known, whether it was opened or closed: ${texts.slice(0, MOST_NAMED).join(', ')}${more}. Where one of the two is meant, write "drain opened" or "drain closed".`,
  ];
}
