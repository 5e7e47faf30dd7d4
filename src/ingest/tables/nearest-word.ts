import { closest, distance } from 'fastest-levenshtein';
import { shorten } from '../../recording/problem.js';

/** `Did you mean "keep"? ` where a valid word is near; nothing elsewhere. */
export function didYouMean(word: string, valid: readonly string[]): string {
  const wanted = word.toLowerCase();
  const nearest = closest(wanted, [...valid]);
  const starts = wanted.length > 2 && (nearest.startsWith(wanted) || wanted.startsWith(nearest));
  return starts || distance(wanted, nearest) <= Math.max(2, wanted.length / 3)
    ? `Did you mean "${nearest}"? `
    : '';
}

/** `"kepp" is none of keep, remove and suspect`. */
export const noneOf = (word: string, valid: readonly string[]): string =>
  `"${shorten(word)}" is none of ${valid.slice(0, -1).join(', ')} and ${valid[valid.length - 1]}`;
