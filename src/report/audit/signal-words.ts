import type { ViewResult } from '../results-audit-time.js';
import { counted, day, listed } from '../words.js';

type Per = 'week' | 'month';

/** `week of 3 March 2031`, `March 2031`. */
export const pointWords = (start: string, per: Per): string =>
  per === 'week' ? `week of ${day(start)}` : day(start).replace(/^\d+ /, '');

const TOO_FEW = 'too few to tell';
const times = (n: number): string => (n === 1 ? 'once' : n === 2 ? 'twice' : `${n} times`);

/** What the run chart says: which signal, or none; never whether it is for better or worse. */
export function runWords(
  { longest, mostInRun, crossings, fewestCrossings, reason }: ViewResult['run'],
  per: Per,
): string {
  if (reason !== null || mostInRun === null || fewestCrossings === null) {
    return reason?.startsWith(TOO_FEW) ? reason : `${TOO_FEW}: ${reason ?? 'no points'}`;
  }
  const words = [
    ...(longest !== null && longest.points > mostInRun
      ? [
          `${counted(longest.points, per)} in a row ${longest.side} the median (${pointWords(longest.start, per)} to ${pointWords(longest.end, per)}), of ${mostInRun} at most`,
        ]
      : []),
    ...(crossings < fewestCrossings
      ? [`the median is crossed ${times(crossings)}, of ${fewestCrossings} at least`]
      : []),
  ];
  return words.length === 0 ? 'no signal' : `signal: ${words.join('; ')}`;
}

/** So many points are named. */
const MOST_NAMED = 4;

/** What the control limits say. */
export function limitWords(
  { limits, limitsReason }: Pick<ViewResult, 'limits' | 'limitsReason'>,
  per: Per,
): string {
  if (limitsReason !== null) return limitsReason;
  const past = limits.filter(({ beyond }) => beyond !== null);
  if (past.length === 0) return 'no signal';
  const named = past
    .slice(0, MOST_NAMED)
    .map(({ start, beyond }) => `${pointWords(start, per)} ${beyond ?? ''} its limit`);
  return past.length > MOST_NAMED
    ? `signal: ${counted(past.length, per)} beyond the limits, the first ${MOST_NAMED}: ${listed(named)}`
    : `signal: ${listed(named)}`;
}
