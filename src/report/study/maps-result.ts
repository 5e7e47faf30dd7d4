import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyMapResult } from '../results-study-map.js';

export const mapsResult = (_cohort: StudyCohort): StudyMapResult[] => {
  throw new Error('not built yet');
};
