import { featuresOf } from '../../summarize/study/features.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyResult } from '../results-study.js';
import { featureTable } from './feature-tables.js';
import { comparisonTable } from './study-comparison-table.js';
import { cutTable } from './study-cut-table.js';
import { dayTable } from './study-day-table.js';
import { studyDoseTables } from './study-dose-tables.js';
import { studyFlowTables } from './study-flow-tables.js';
import { lookTable } from './study-look-table.js';
import { studyMapTables } from './study-map-tables.js';
import { oddsTable } from './study-odds-table.js';
import { studyPatientTable } from './study-patient-table.js';
import { studyTableOne } from './study-table-one.js';
import type { TidyTable } from './tidy-table.js';

/** Tables with a row for a single patient. */
export const OF_SINGLE_PATIENTS: ReadonlySet<string> = new Set(['patients', 'features', 'features-long']);

/** Each row with a cell in each column: a CSV is written of what its rows have. */
function whole(table: TidyTable): TidyTable {
  const blank = Object.fromEntries(table.columns.map(({ name }) => [name, null]));
  return { ...table, rows: table.rows.map((row) => ({ ...blank, ...row })) };
}

/**
 * The tables of a study: those of single patients are made of the cohort, all others of the results, so that they hold the
 * figures of the page.
 */
export function studyTables(cohort: StudyCohort, study: StudyResult): TidyTable[] {
  const { members, settings, icpEpisodes } = cohort;
  const { wide, long } = featureTable(
    members.flatMap((member) => member.study?.rows ?? []),
    featuresOf(settings.levels, icpEpisodes),
  );
  const [ofPatients, ...ofAll] = [
    studyPatientTable(cohort),
    ...studyFlowTables(study),
    studyTableOne(study.tableOne),
    comparisonTable(study.features),
    oddsTable(study.features),
    cutTable(study.features),
    lookTable(study.looks),
    ...studyDoseTables(study.dose),
    ...studyMapTables(study.maps),
    dayTable(study.days),
  ].map(whole);
  return [ofPatients, wide, long, ...ofAll];
}
