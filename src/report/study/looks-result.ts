import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyLookResult } from '../results-study-features.js';

export const looksResult = (_cohort: StudyCohort): StudyLookResult[] => {
  throw new Error('not built yet');
};
