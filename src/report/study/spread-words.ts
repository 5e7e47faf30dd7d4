import type { SpreadResult } from '../results-study-cohort.js';
import { NONE } from '../words.js';

/** `41 (28 to 60)`: median and quartiles; a dash where nobody has a value. */
export function spreadWords(
  { median, lowerQuartile, upperQuartile }: SpreadResult,
  number: (value: number) => string,
): string {
  if (median === null || lowerQuartile === null || upperQuartile === null) return NONE;
  return `${number(median)} (${number(lowerQuartile)} to ${number(upperQuartile)})`;
}

/** A median of whole numbers, which may lie between two: `41`, `41.5`. */
export const wholeOrHalf = (value: number): string => String(Number(value.toFixed(1)));

/** Hours with one decimal. */
export const hoursNumber = (value: number): string => value.toFixed(1);
