import type { OutcomeScale } from '../../ingest/tables/outcome.js';
import type { ChosenFeature } from './analysis/feature-analysis.js';
import type { Adjuster } from './analysis/study-patient.js';
import type { FeatureLevels } from './feature-levels.js';
import type { AgeFrom } from './monitoring-criteria.js';

/** What of a study's settings the figures of one patient hang on. */
export interface PatientStudySettings {
  /** First hours of monitoring that make the primary window. */
  readonly primaryHours: number;
  readonly levels: FeatureLevels;
  /** Optimal CPP is looked for, which is about a fifth of the work. */
  readonly hasOptimal: boolean;
}

/** Which outcome is asked about. */
export interface OutcomeChoice {
  /** Null: that of the table. */
  readonly scale: OutcomeScale | null;
  /** The lowest level that counts as favourable; null: the usual one of the scale. */
  readonly favourableFrom: number | null;
  /** Months after the injury at which the outcome is wanted; null: whenever it was assessed. */
  readonly months: number | null;
  /** How many months an assessment may be away from it. */
  readonly withinMonths: number;
}

/** What is asked of a cohort, settled before the data are looked at. */
export interface StudySettings extends PatientStudySettings {
  readonly outcome: OutcomeChoice;
  /** Monitored hours of ICP in the primary window that a patient needs. */
  readonly leastHours: number;
  readonly ageFrom: AgeFrom;
  readonly chosen: readonly ChosenFeature[];
  /** True where the pipeline file names none, so that they are the usual ones. */
  readonly areChosenUsual: boolean;
  /** Null: the usual ones of the table. */
  readonly adjusters: readonly Adjuster[] | null;
  /** Groups of the dose response. */
  readonly quantiles: number;
  /** Draws of patients for the intensity-duration maps. */
  readonly resamples: number;
  /** False where patients stand under their own numbers in tables. */
  readonly hasPseudonyms: boolean;
}

/** Where draws of patients start: the same data give the same maps. */
export const STUDY_SEED = 20_261;
