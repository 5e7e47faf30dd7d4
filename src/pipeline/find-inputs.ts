import { type ExportFile, findExports } from '../ingest/find-exports.js';
import { type FileGroup, groupByPatient } from '../ingest/group-files.js';
import { Problem } from '../recording/problem.js';
import type { Pipeline } from './load-pipeline.js';
import { type Logs, readLogs } from './read-logs.js';

/** What a pipeline reads. */
export interface Inputs {
  readonly logs: Logs;
  readonly groups: readonly FileGroup[];
  /** Exports whose name does not fit the pattern of patients. */
  readonly unfit: readonly ExportFile[];
}

/**
 * Reads the logs, and finds the exports by patient.
 *
 * @throws Problem where nothing is there, or a log cannot be used
 */
export async function findInputs(pipeline: Pipeline): Promise<Inputs> {
  const logs = await readLogs(pipeline);
  const files = await exportsOf(pipeline, logs);
  return { logs, ...groupByPatient(files, pipeline.settings.ingest) };
}

/** The exports; a log that lies among them is none. */
async function exportsOf({ settings, baseOf }: Pipeline, { paths }: Logs): Promise<ExportFile[]> {
  const found = await findExports(settings.exports, baseOf('exports'));
  const files = found.filter(({ path }) => !paths.has(path));
  if (files.length > 0) return files;
  throw new Problem(
    `exports lead to nothing but ${found[0].name}, which is named as a log too`,
    'Look at exports in the pipeline file, or at --data.',
  );
}
