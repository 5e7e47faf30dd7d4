/** What stands where a count is hidden: it may be a small one, or one that would give a small one away. */
export const HIDDEN = 'not shown';

/** A count, or that it is not shown. */
export const countWord = (count: number | null): string => (count === null ? HIDDEN : String(count));

/** `1 alarm`, `12 alarms`, `alarms in a number that is not shown`. */
export const countedWord = (count: number | null, noun: string): string =>
  count === null ? `${noun}s (number not shown)` : `${count} ${noun}${count === 1 ? '' : 's'}`;

/** What is hidden on a page, as a sentence; empty where all counts are shown. */
export const maskNote = (maskBelow: number | null): string =>
  maskBelow === null
    ? ''
    : `Not shown: counts under ${maskBelow}, other than none; the next larger ones where a total would give those away; what rests on them; and single patients and episodes.`;
