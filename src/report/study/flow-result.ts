import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyFlowResult } from '../results-study-cohort.js';

export const flowResult = (_cohort: StudyCohort): StudyFlowResult => {
  throw new Error('not built yet');
};
