import type { Targets } from '../summarize/targets.js';
import { handover } from './handover.js';
import { patientSentence } from './morning/patient-sentence.js';
import { perfusionSentence } from './perfusion/perfusion-sentence.js';
import type { PatientReportName } from './report-name.js';
import type { RecordingResult } from './results-schema.js';

/** What a report says of a patient in results.json, beside the figures. */
export interface PatientWords {
  /** The sentence on top of the patient's page. */
  readonly sentence: (result: RecordingResult, targets: Targets, word: 'night' | 'period') => string;
  /** The patient's lines in handover.txt; none where the report writes none. */
  readonly handover: typeof handover;
}

export const PATIENT_WORDS: Readonly<Record<PatientReportName, PatientWords>> = {
  morning: { sentence: patientSentence, handover },
  perfusion: { sentence: perfusionSentence, handover: () => [] },
};
