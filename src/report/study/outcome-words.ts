import type { StudyOutcomeResult } from '../results-study-cohort.js';

type Side = keyof StudyOutcomeResult['words'];

/** What one side of the cut is, without the side's name: `GOSE 1 to 4`, `dead`. */
export const sideLevels = ({ words }: Pick<StudyOutcomeResult, 'words'>, side: Side): string =>
  words[side].replace(/^(un)?favourable: /, '');

/** `an unfavourable outcome (GOSE 1 to 4)`. */
export const unfavourableOutcome = (outcome: Pick<StudyOutcomeResult, 'words'>): string =>
  `an unfavourable outcome (${sideLevels(outcome, 'unfavourable')})`;
