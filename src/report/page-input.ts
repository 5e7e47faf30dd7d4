import type { Targets } from '../summarize/targets.js';
import type { RecordingResult, Results } from './results-schema.js';
import { titleTime } from './words.js';

/** What every page of a patient is made from, whatever the report: figures, and what was set. */
export interface PageInput {
  readonly result: RecordingResult;
  readonly logs: Results['logs'];
  /** Where cleaning is not the usual one. */
  readonly cleaningNote: string | null;
  readonly period: Results['period'];
  /** Of the unit. */
  readonly title: string;
  readonly targets: Targets;
  readonly episodeMinutes: number;
}

/** What stands on top of a page of the patient, and at the foot of each sheet of it. */
export const patientTitle = ({ result, period }: PageInput): string =>
  `Patient ${result.id}: ${titleTime(period.word, period.start, period.end)}`;
