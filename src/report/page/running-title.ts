import { days } from '../words.js';
import { LONGEST } from './css-string.js';

/**
 * What stands at the foot of each printed sheet: `Patient 104, night of 11 to 12 February 2031`. A long name is cut, and
 * never the time.
 */
export function runningTitle(
  whom: string,
  { word, start, end }: { readonly word: 'night' | 'period'; readonly start: string; readonly end: string },
): string {
  const time = word === 'night' ? `night of ${days(start, end)}` : days(start, end);
  const name = [...whom];
  const room = LONGEST - time.length - ', '.length;
  return `${
    name.length > room
      ? `${name
          .slice(0, room - 1)
          .join('')
          .trimEnd()}…`
      : whom
  }, ${time}`;
}
