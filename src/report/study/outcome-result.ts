import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyOutcomeResult } from '../results-study-cohort.js';

export const outcomeResult = (_cohort: StudyCohort): StudyOutcomeResult => {
  throw new Error('not built yet');
};
