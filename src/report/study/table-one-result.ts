import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyTableOneResult } from '../results-study-cohort.js';

export const tableOneResult = (_cohort: StudyCohort): StudyTableOneResult => {
  throw new Error('not built yet');
};
