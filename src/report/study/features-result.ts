import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyFeatureResult } from '../results-study-features.js';

export const featuresResult = (_cohort: StudyCohort): StudyFeatureResult[] => {
  throw new Error('not built yet');
};
