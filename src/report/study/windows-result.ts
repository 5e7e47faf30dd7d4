import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyWindowsResult } from '../results-study-cohort.js';

export const windowsResult = (_cohort: StudyCohort): StudyWindowsResult => {
  throw new Error('not built yet');
};
