import type { OutcomeScale } from '../../ingest/tables/outcome.js';
import type { StudyOutcomeResult } from '../results-study-cohort.js';

/** What a scale is called in a sentence. */
export const SCALE_WORDS: Readonly<Record<OutcomeScale, string>> = {
  gos: 'GOS',
  gose: 'GOSE',
  mortality: 'alive or dead',
};

/** `6 months`, `1 month`, `1.5 months`. */
export const monthsWord = (months: number): string =>
  `${Number(months.toFixed(2))} ${months === 1 ? 'month' : 'months'}`;

/** `GOSE`, `GOSE at 6 months`: the outcome that a study asks about. */
export const outcomeAsked = (scale: OutcomeScale, months: number | null): string =>
  months === null ? SCALE_WORDS[scale] : `${SCALE_WORDS[scale]} at ${monthsWord(months)}`;

type Side = keyof StudyOutcomeResult['words'];

/** What one side of the cut is, without the side's name: `GOSE 1 to 4`, `dead`. */
export const sideLevels = ({ words }: Pick<StudyOutcomeResult, 'words'>, side: Side): string =>
  words[side].replace(/^(un)?favourable: /, '');

/** `an unfavourable outcome (GOSE 1 to 4)`. */
export const unfavourableOutcome = (outcome: Pick<StudyOutcomeResult, 'words'>): string =>
  `an unfavourable outcome (${sideLevels(outcome, 'unfavourable')})`;
