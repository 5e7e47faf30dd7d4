import { monitoringCriteria } from '../../summarize/study/monitoring-criteria.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyCriteriaResult } from '../results-study-cohort.js';
import { tally } from './tally.js';

/** How many patients of the table fulfil the criteria for monitoring ICP; whether they count in the study makes no difference. */
export function criteriaResult({ members, settings }: StudyCohort): StudyCriteriaResult {
  const judged = members.flatMap(({ row }) => (row ? [monitoringCriteria(row, settings)] : []));
  const having = (wanted: string): number => judged.filter(({ status }) => status === wanted).length;
  return {
    ageFrom: settings.ageFrom,
    met: having('met'),
    notMet: having('notMet'),
    cannotTell: having('cannotTell'),
    missing: tally(judged.flatMap(({ missing }) => missing)).map(({ text, count }) => ({
      field: text,
      patients: count,
    })),
  };
}
