import type { CohortRow } from '../../../ingest/tables/cohort.js';
import type { Outcome } from '../../../ingest/tables/outcome.js';
import type { BurdenFeatures } from '../burden-features.js';
import type { StudyWindow } from '../study-windows.js';

/** What the analysis knows of one patient. */
export interface StudyPatient {
  readonly id: string;
  /** Of one window. */
  readonly features: BurdenFeatures;
  /** What that window ends by. */
  readonly windowEndsBy: StudyWindow['endsBy'];
  readonly ageYears: number | null;
  readonly gcsMotor: number | null;
  readonly gcsTotal: number | null;
  readonly pupilsReacting: 0 | 1 | 2 | null;
  /** The score of the table, on whichever scale it is. */
  readonly therapyIntensity: number | null;
  /** Had a craniectomy; null where the table does not say. */
  readonly hadCraniectomy: boolean | null;
  /** Treatment was withdrawn; null where the table does not say. */
  readonly isWithdrawn: boolean | null;
  /** By brain death or otherwise, at any time that the table tells of; null where it does not say. */
  readonly hasDied: boolean | null;
  readonly outcome: Outcome | null;
}

/** Fields of the table by which an association can be adjusted. */
export const ADJUSTERS = ['ageYears', 'gcsMotor', 'gcsTotal', 'pupilsReacting'] as const;
export type Adjuster = (typeof ADJUSTERS)[number];

/** What of a row the analysis rests on. */
export type AnalysisRow = Pick<
  CohortRow,
  | 'id'
  | 'ageYears'
  | 'gcsMotor'
  | 'gcsTotal'
  | 'pupilsReacting'
  | 'therapyIntensity'
  | 'craniectomy'
  | 'withdrawn'
  | 'brainDeath'
  | 'death'
  | 'outcome'
>;

const isDeadBy = (outcome: Outcome): boolean =>
  outcome.scale === 'mortality' ? outcome.isDead : outcome.value === 1;

/**
 * Whether a patient died, as the columns of brain death and of deaths or the outcome say; null where none does. Brain death
 * is death, and that there was none tells nothing of other deaths.
 */
export function hasDiedBy({
  brainDeath,
  death,
  outcome,
}: Pick<AnalysisRow, 'brainDeath' | 'death' | 'outcome'>): boolean | null {
  const said = [
    brainDeath?.happened || undefined,
    death?.happened,
    outcome === null ? undefined : isDeadBy(outcome),
  ];
  return said.some((one) => one !== undefined) ? said.includes(true) : null;
}

/** A patient of the table with the features of one window. */
export function studyPatient(
  row: AnalysisRow,
  features: BurdenFeatures,
  windowEndsBy: StudyWindow['endsBy'],
): StudyPatient {
  const { id, ageYears, gcsMotor, gcsTotal, pupilsReacting, therapyIntensity, outcome } = row;
  return {
    id,
    features,
    windowEndsBy,
    ageYears,
    gcsMotor,
    gcsTotal,
    pupilsReacting,
    therapyIntensity,
    hadCraniectomy: row.craniectomy?.happened ?? null,
    isWithdrawn: row.withdrawn?.happened ?? null,
    hasDied: hasDiedBy(row),
    outcome,
  };
}
