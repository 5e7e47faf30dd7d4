import type { StudyOutcomeResult } from '../results-study-cohort.js';
import { counted, share } from '../words.js';
import { monthsWord, SCALE_WORDS } from './outcome-words.js';

/** `unfavourable (GOSE 1 to 4)`, `dead`: a group inside a sentence. */
const inSentence = (words: string): string => words.replace(/: (.+)$/, ' ($1)');

/** How many have which outcome, as a sentence. */
export function outcomeSentence({ counts, words }: Pick<StudyOutcomeResult, 'counts' | 'words'>): string {
  const all = counts.favourable + counts.unfavourable;
  if (all === 0) return 'Nobody who was monitored for long enough has an outcome.';
  const part = (count: number): string => `${count} (${share(count / all)})`;
  return `Of the ${counted(all, 'patient')} of the main analysis the outcome is ${inSentence(words.unfavourable)} in ${part(counts.unfavourable)} and ${inSentence(words.favourable)} in ${part(counts.favourable)}.`;
}

/** Which scale, and where it is cut. */
export function cutSentence(outcome: StudyOutcomeResult): string {
  const { scale, scaleIsOfTable, cutSource, onAnotherScale } = outcome;
  const whose = scaleIsOfTable
    ? 'the one that most outcomes of the table are on'
    : 'as the pipeline file says';
  const cut = scale === 'mortality' ? '' : ` Cut between the groups: ${cutSource}.`;
  const other =
    onAnotherScale === 0
      ? ''
      : ` ${counted(onAnotherScale, 'patient')} who ${onAnotherScale === 1 ? 'was' : 'were'} monitored for long enough ${onAnotherScale === 1 ? 'has' : 'have'} an outcome on a scale that does not tell it, and ${onAnotherScale === 1 ? 'counts' : 'count'} as without outcome.`;
  return `Scale: ${SCALE_WORDS[scale]}, ${whose}.${cut}${other}`;
}

/** When outcomes were assessed, over the patients of the table with an outcome. */
export function assessedSentence({ months, withinMonths, assessed }: StudyOutcomeResult): string {
  const { inTime, otherTime, unknown } = assessed;
  const all = inTime + otherTime + unknown;
  if (all === 0) return 'No patient of the table has an outcome.';
  if (months === null) {
    return `No time of assessment was asked for: the outcome of each of the ${counted(all, 'patient')} of the table who ${all === 1 ? 'has' : 'have'} one is taken whenever it was assessed.`;
  }
  const other = otherTime === 0 ? '' : `; ${otherTime} at another time, which counts as no known outcome`;
  const untold =
    unknown === 0
      ? ''
      : `; of ${unknown} the table does not say when, and ${unknown === 1 ? 'that outcome counts' : 'their outcomes count'}`;
  return `Asked for: ${monthsWord(months)} after the injury, up to ${monthsWord(withinMonths)} before or after. Of the ${counted(all, 'patient')} of the table with an outcome ${inTime} ${inTime === 1 ? 'was' : 'were'} assessed then, or found dead before${other}${untold}.`;
}
