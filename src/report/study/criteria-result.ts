import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyCriteriaResult } from '../results-study-cohort.js';

export const criteriaResult = (_cohort: StudyCohort): StudyCriteriaResult => {
  throw new Error('not built yet');
};
