import { type CohortColumn, type Distribution, tableOne } from '../../summarize/study/analysis/table-one.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyTableOneResult } from '../results-study-cohort.js';
import { spreadResult } from './spread-result.js';

type ColumnResult = StudyTableOneResult['all'];

const distribution = ({ counts, missing }: Distribution): ColumnResult['pupilsReacting'] => ({
  counts: counts.map((one) => ({ ...one })),
  missing,
});

const columnResult = (column: CohortColumn): ColumnResult => ({
  patients: column.patients,
  ageYears: spreadResult(column.ageYears),
  gcsMotor: scored(column.gcsMotor),
  gcsTotal: scored(column.gcsTotal),
  pupilsReacting: distribution(column.pupilsReacting),
  therapyIntensity: spreadResult(column.therapyIntensity),
  monitoredHours: spreadResult(column.monitoredHours),
  died: column.died,
  craniectomy: column.craniectomy,
  withdrawn: column.withdrawn,
});

function scored({ counts, ...spread }: CohortColumn['gcsMotor']): ColumnResult['gcsMotor'] {
  return { ...spreadResult(spread), ...distribution({ counts, missing: spread.missing }) };
}

/** Who the patients are, by outcome. */
export function tableOneResult({ groups }: StudyCohort): StudyTableOneResult {
  const { favourable, unfavourable, withoutOutcome, all } = tableOne(groups);
  return {
    favourable: columnResult(favourable),
    unfavourable: columnResult(unfavourable),
    withoutOutcome: columnResult(withoutOutcome),
    all: columnResult(all),
  };
}
