import type { PageInput } from '../page-input.js';
import type { PatientDrawings } from './patient-drawings.js';

/** What the morning pages of a patient are made from: figures, and the drawings of the period. */
export interface PatientPageInput extends PageInput {
  readonly drawings: PatientDrawings;
}
