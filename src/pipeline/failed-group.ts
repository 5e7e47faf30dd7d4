import type { FileGroup } from '../ingest/group-files.js';
import { Problem } from '../recording/problem.js';
import type { PatientPart } from './report-group.js';

/** A patient of whom nothing was read. */
export const failedPart = (id: string, problem: Problem, isPassing: boolean): PatientPart => ({
  id,
  problem: problem.message,
  isPassing,
  rowsRead: 0,
  setAside: [],
  isStray: false,
  files: [],
  extent: null,
  channels: [],
  period: null,
  report: null,
  audit: null,
  study: null,
});

/** A group that failed as a whole: its patient, or a file each where a column names the patients. */
export function failedGroup({ id, files }: FileGroup, what: string, fix: string): PatientPart[] {
  const ids = id === null ? files.map(({ name }) => name) : [id];
  return ids.map((one) => failedPart(one, new Problem(what, fix, { file: files[0].name }), true));
}

/** A group that a fault of the program kept from being read. */
export function faultyGroup(group: FileGroup, error: unknown): PatientPart[] {
  const { message } = error instanceof Error ? error : new Error(String(error));
  return failedGroup(
    group,
    `a fault of the program (${message})`,
    'Tell its developers, with the export if it may leave.',
  );
}

/** A group whose worker thread came to an end before it was done. */
export function abandonedGroup(group: FileGroup, error: Error & { readonly code?: string }): PatientPart[] {
  if (error.code === 'ERR_WORKER_OUT_OF_MEMORY') {
    return failedGroup(
      group,
      'the memory that a thread may use was used up',
      'Run again with --threads 1, or give it fewer or shorter files.',
    );
  }
  return failedGroup(
    group,
    `the thread that worked on it came to an end (${error.message})`,
    'Run the same command again; where it happens again, tell the developers.',
  );
}
