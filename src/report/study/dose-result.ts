import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyDoseResult } from '../results-study-dose.js';

export const doseResult = (_cohort: StudyCohort): StudyDoseResult[] => {
  throw new Error('not built yet');
};
