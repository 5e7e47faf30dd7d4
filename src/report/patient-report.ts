import type { Mark } from '../clean/rule.js';
import type { Interval } from '../recording/interval.js';
import type { Recording } from '../recording/recording.js';
import type { ZoneClock } from '../recording/zone.js';
import type { PerfusionSummary } from '../summarize/perfusion/summarize-perfusion.js';
import type { RecordingSummary } from '../summarize/summarize.js';
import type { Targets } from '../summarize/targets.js';
import type { Bedside } from './bedside.js';
import type { Draw } from './charts/spec.js';
import type { PageInput } from './page-input.js';

/** File names of a patient's pages; without a second one where the report has none. */
export interface PageNames {
  readonly morning: string;
  readonly detail: string | null;
}

/** What charts of a patient are drawn from. */
export interface DrawnFrom {
  readonly recording: Recording;
  readonly marks: readonly Mark[];
  readonly summary: RecordingSummary;
  readonly period: Interval;
  readonly clock: ZoneClock;
  readonly targets: Targets;
  /** Those that share time with the recording or the period. */
  readonly nights: readonly Interval[];
  readonly bedside: Bedside;
  readonly perfusion: PerfusionSummary;
}

/** All that a patient's pages are made from: figures and words, and signals. */
export interface PatientPagesInput {
  readonly names: PageNames;
  readonly page: PageInput;
  readonly from: DrawnFrom;
}

/** A page as it is written. */
export interface PageFile {
  readonly name: string;
  readonly html: string;
}

/** A patient's pages, and the strip of the patient's row on the page of the unit. */
export interface PatientPages {
  readonly files: readonly PageFile[];
  readonly strip: string;
}

export type DrawPages = (input: PatientPagesInput, draw: Draw) => Promise<PatientPages>;
