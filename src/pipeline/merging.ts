import type { FileGroup } from '../ingest/group-files.js';
import { Problem } from '../recording/problem.js';
import type { TasksOf } from './patient-tasks.js';
import type { ResultStore } from './result-store.js';
import { type ShardRecord, shardRecords } from './shard-record.js';
import { shardSettings } from './shard-settings.js';
import { systemWords } from './system-words.js';

/** What shards have left for a merge. */
export interface ShardsDone {
  readonly records: readonly ShardRecord[];
  readonly program: string;
  readonly settings: string;
  /** False of patients whom a shard could not keep for a reason that may pass: the merge reads them itself. */
  readonly isStoredOnly: (group: FileGroup) => boolean;
}

/** @throws Problem where the store cannot be read */
export async function mergingOf(
  store: ResultStore,
  unusable: string | null,
  of: Omit<TasksOf, 'store'>,
): Promise<ShardsDone> {
  if (unusable !== null) {
    throw new Problem(
      `the store ${store.folder} cannot be used (${systemWords(unusable)})`,
      'Shards store what they read there, and merge takes it from there: look at the folder, run the shards as the same user, and merge again.',
    );
  }
  const records = await shardRecords(store.folder);
  const settings = shardSettings({ ...of, store });
  const own = records.filter((one) => one.program === store.program && one.settings === settings);
  const notKept = new Set(own.flatMap((one) => one.notKept.map(({ file }) => file)));
  return {
    records,
    program: store.program,
    settings,
    isStoredOnly: ({ files }) => !files.some(({ name }) => notKept.has(name)),
  };
}

/** What a merge says where its folder cannot take the report: in another one, which a run may choose, nothing is stored. */
export function mergingProblem(error: unknown): unknown {
  if (!(error instanceof Problem) || !error.fix.startsWith('Choose another')) return error;
  return new Problem(
    error.what,
    'A merge has to be given the --out of its shards, since what they have stored lies beside it: mend that, then merge again.',
  );
}
