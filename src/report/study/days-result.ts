import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyDaysResult } from '../results-study-cohort.js';

export const daysResult = (_cohort: StudyCohort): StudyDaysResult => {
  throw new Error('not built yet');
};
