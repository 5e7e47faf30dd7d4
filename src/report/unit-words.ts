import type { Targets } from '../summarize/targets.js';
import { type Absent, rankPatients } from './morning/rank.js';
import { unitSentence } from './morning/unit-sentence.js';
import { rankByPerfusion } from './perfusion/rank.js';
import { perfusionUnitSentence } from './perfusion/unit-sentence.js';
import type { PatientReportName } from './report-name.js';
import type { UnitRecording } from './results-schema.js';

/** What a report says of a unit in results.json, beside the figures. */
export interface UnitWords {
  readonly sentence: (
    recordings: readonly UnitRecording[],
    absent: readonly Absent[],
    targets: Targets,
  ) => string;
  /** Patients as the page of the unit lists them. */
  readonly order: (recordings: readonly UnitRecording[], absent: readonly Absent[]) => string[];
}

export const UNIT_WORDS: Readonly<Record<PatientReportName, UnitWords>> = {
  morning: { sentence: unitSentence, order: rankPatients },
  perfusion: { sentence: perfusionUnitSentence, order: rankByPerfusion },
};
