import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyResult } from '../results-study.js';
import type { TidyTable } from './tidy-table.js';

/** Tables with a row for a single patient. */
export const OF_SINGLE_PATIENTS: ReadonlySet<string> = new Set(['patients', 'features', 'features-long']);

/** The tables of a study. */
export const studyTables = (_cohort: StudyCohort, _study: StudyResult): TidyTable[] => {
  throw new Error('not built yet');
};
