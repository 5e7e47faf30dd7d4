import { resolve } from 'node:path';
import { Problem } from '../recording/problem.js';
import { VERSION } from '../version.js';
import { Crew } from './crew.js';
import { findInputs } from './find-inputs.js';
import { loadPipeline, type PipelineOptions } from './load-pipeline.js';
import { patientTasks } from './patient-tasks.js';
import { newToken } from './process-token.js';
import { programIdentity } from './program-identity.js';
import { reportGroups } from './report-groups.js';
import { intoStore, openStore, type ResultStore, storeFolder, tidyStore } from './result-store.js';
import type { RunOptions } from './run-pipeline.js';
import { mergeCommand, shardCommand } from './shard-command.js';
import { dropShardRecord, writeShardRecord } from './shard-record.js';
import { shardSettings } from './shard-settings.js';
import { shareOut } from './share-out.js';
import type { Share } from './shares.js';
import { reportPlace } from './swap-folder.js';
import { systemWords } from './system-words.js';
import { Tally } from './tally.js';

/** How to run a share of a pipeline's patients: as all of them, into the store beside the report folder. */
export interface ShardOptions
  extends PipelineOptions,
    Pick<RunOptions, 'out' | 'threads' | 'pages' | 'fresh' | 'onEvent' | 'signal'> {
  readonly shard: Share;
}

/** What a shard has done. */
export interface ShardOutcome {
  readonly shard: Share;
  /** Where the results are stored. */
  readonly store: string;
  /** Groups of files of the share, and of all shares. */
  readonly groups: number;
  readonly ofGroups: number;
  readonly rowsRead: number;
  readonly failed: readonly { readonly id: string; readonly why: string }[];
  /** Of whom nothing was kept, since the reason may pass; `merge` reads them itself. */
  readonly notKept: readonly { readonly file: string; readonly why: string }[];
  /** The command that writes the report, once all shards are there. */
  readonly merge: string;
}

/**
 * Reads and reports one share of a pipeline's patients into the store beside the report folder, and writes no report: that is
 * for `merge`, once all shards are there. Shards need nothing of each other, may run at once on machines that share the
 * folder, and twice: what is stored already is taken as it is.
 *
 * @param given path of a pipeline file, or the name of one in `pipelines`
 * @throws Problem where not all of the share could be stored, with the command that mends it
 */
export async function runShard(given: string, options: ShardOptions): Promise<ShardOutcome> {
  const startedAt = Date.now();
  const { shard, signal, threads, pages: hasPages = true, fresh: isFresh = false } = options;
  const pipeline = await loadPipeline(given, options);
  const { settings } = pipeline;
  const { logs, groups } = await findInputs(pipeline);
  const shares = await shareOut(groups, shard.of);
  const mine = groups.filter((_, i) => shares[i] === shard.number);
  const crew = Crew.for(mine.length, threads);
  try {
    const program = await programIdentity();
    const folder = storeFolder(await reportPlace(resolve(options.out ?? `reports/${settings.name}`)));
    const store: ResultStore = { folder, token: newToken(), program, isFresh };
    const again = shardCommand(given, options, shard);
    const unusable = await openStore(store);
    if (unusable !== null) throw unstored(folder, unusable, again);
    const tally = new Tally((event) => options.onEvent?.(event));
    const of = { settings, logs, hasPages, store };
    try {
      await dropShardRecord(store, shard);
      const tasks = patientTasks(of, mine, null);
      await tally.start(1, tasks);
      const taken = await reportGroups(tasks, crew, {
        signal,
        take: async (outcome, task) => {
          tally.take(outcome, task);
          if (outcome.unkept !== null) throw unstored(folder, outcome.unkept, again);
          return { outcome, file: task.task.group.files[0].name };
        },
      });
      signal?.throwIfAborted();
      const parts = taken.flatMap(({ outcome }) => outcome.parts);
      const notKept = taken.flatMap(
        ({
          outcome: {
            key,
            parts: [part],
          },
          file,
        }) => (key === null ? [{ file, why: part?.problem ?? 'the file changed while it was read' }] : []),
      );
      const record = {
        shard: shard.number,
        of: shard.of,
        program,
        version: VERSION,
        node: process.version,
        settings: shardSettings(of),
        groups: mine.length,
        notKept,
      };
      await intoStore(store, () => writeShardRecord(store, record)).catch((error) => {
        throw unstored(folder, (error as NodeJS.ErrnoException).code ?? String(error), again);
      });
      const failed = parts.flatMap(({ id, problem }) => (problem === null ? [] : [{ id, why: problem }]));
      options.onEvent?.({
        event: 'stored',
        shard: shard.number,
        of: shard.of,
        folder,
        ...tally.counts(parts),
        failed: failed.length,
        notKept: notKept.length,
        seconds: (Date.now() - startedAt) / 1000,
      });
      return {
        shard,
        store: folder,
        groups: mine.length,
        ofGroups: groups.length,
        rowsRead: parts.reduce((sum, { rowsRead }) => sum + rowsRead, 0),
        failed,
        notKept,
        merge: mergeCommand(given, options),
      };
    } finally {
      await tidyStore(store, null, 0).catch(() => {});
    }
  } finally {
    await crew?.end();
  }
}

const unstored = (folder: string, why: string, again: string): Problem =>
  new Problem(
    `not all of this share could be stored in ${folder} (${systemWords(why)})`,
    `What is stored stays. Mend that, then run: ${again}`,
  );
