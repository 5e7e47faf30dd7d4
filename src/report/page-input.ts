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

/** What stands on top of a page of the patient; `what` tells what the page is about, where it is not the morning's. */
export const patientTitle = ({ result, period }: PageInput, what = ''): string =>
  `Patient ${result.id}: ${what}${titleTime(period.word, period.start, period.end)}`;
