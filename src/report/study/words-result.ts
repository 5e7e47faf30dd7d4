import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyResult } from '../results-study.js';

export const wordsResult = (_cohort: StudyCohort): StudyResult['words'] => {
  throw new Error('not built yet');
};
