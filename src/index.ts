/** Cistern as a library: the pipeline, and the measures on the one signal model. */

export { occupancyOf, patientAt, patientsOfRows } from './ingest/tables/patient-at.js';
export { readTable, type TableReading } from './ingest/tables/read-table.js';
export { recogniseTable } from './ingest/tables/recognise-table.js';
export {
  type DeidentifyOptions,
  type DeidentifyOutcome,
  deidentify,
} from './pipeline/deidentify/deidentify.js';
export { type InspectOptions, inspectFiles } from './pipeline/inspect-files.js';
export { loadPipeline, type Pipeline, type PipelineOptions } from './pipeline/load-pipeline.js';
export type { Paper } from './pipeline/print/paper.js';
export type { Unprinted } from './pipeline/print/print-pages.js';
export type { PatientEvent, PrintEvent, RunEvent } from './pipeline/run-event.js';
export { type RunOptions, type RunOutcome, runPipeline } from './pipeline/run-pipeline.js';
export { difference } from './recording/difference.js';
export type { Interval } from './recording/interval.js';
export { Problem } from './recording/problem.js';
export { signalOf } from './recording/sampling.js';
export { type Signal, withoutIntervals } from './recording/signal.js';
export { type Results, resultsSchema, type WrittenResults } from './report/results-schema.js';
export { type Episode, type EpisodeRule, type Episodes, findEpisodes } from './segment/episodes.js';
export { doseAboveMmHgHours, doseBelowMmHgHours } from './summarize/dose.js';
export { extremes, timeWeightedMean } from './summarize/mean.js';
export { timeWeightedPercentile } from './summarize/percentile.js';
export type { Band } from './summarize/piece-sums.js';
export { hoursAbove, hoursBelow, hoursInBand, monitoredHours } from './summarize/time.js';
export { type WindowMean, windowMeans } from './summarize/window-means.js';
