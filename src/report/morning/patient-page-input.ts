import type { Targets } from '../../summarize/targets.js';
import type { RecordingResult, Results } from '../results-schema.js';
import { titleTime } from '../words.js';
import type { PatientDrawings } from './patient-drawings.js';

/** What the pages of a patient are made from: figures, and the drawings of the period. */
export interface PatientPageInput {
  readonly result: RecordingResult;
  readonly logs: Results['logs'];
  /** Where cleaning is not the usual one. */
  readonly cleaningNote: string | null;
  readonly period: Results['period'];
  /** Of the unit. */
  readonly title: string;
  readonly targets: Targets;
  readonly episodeMinutes: number;
  readonly drawings: PatientDrawings;
}

/** What stands on top of a page of the patient, and at the foot of each sheet of it. */
export const patientTitle = ({ result, period }: PatientPageInput): string =>
  `Patient ${result.id}: ${titleTime(period.word, period.start, period.end)}`;
