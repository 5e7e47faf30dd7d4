import type { Paper } from '../pipeline/print/paper.js';
import type { RunEvent } from '../pipeline/run-event.js';
import { type RunOptions, runPipeline } from '../pipeline/run-pipeline.js';
import { runShard, type ShardOptions } from '../pipeline/run-shard.js';
import type { Share } from '../pipeline/shares.js';
import { Problem } from '../recording/problem.js';
import { onInterrupt } from './interrupt.js';
import { progressOn } from './progress.js';
import { interruptedText, shardText, writtenText } from './say.js';

/** What is given to `run`. */
export interface RunFlags {
  data?: string[];
  set?: string[];
  out?: string;
  threads?: number;
  strict?: boolean;
  pages?: boolean;
  pdf?: boolean;
  paper?: Paper;
  fresh?: boolean;
  shard?: Share;
  jsonLog?: boolean;
}

/** What `run` with all of its ways leaves to be told. */
interface Told {
  readonly text: string;
  readonly warnings: readonly string[];
  readonly failed: readonly { readonly id: string; readonly why: string }[];
  readonly status: number;
}

/** `cistern run` and `cistern merge`: gives the exit status. */
export async function run(pipeline: string, flags: RunFlags, merge = false): Promise<number> {
  const progress = await progressOn(flags.jsonLog ?? false);
  const interrupt = onInterrupt();
  // Of the first pass, which reads everything: what a second one does again is kept already.
  let far = { kept: 0, of: 0 };
  const onEvent = (event: RunEvent): void => {
    progress.event(event);
    if (event.event === 'start' && event.pass === 1) far = { kept: 0, of: event.patients };
    else if ('kept' in event && event.pass === 1) far = { kept: event.kept, of: event.of };
  };
  try {
    const given = { ...flags, onEvent, signal: interrupt.signal };
    const { text, warnings, failed, status } = flags.shard
      ? await shardTold(pipeline, { ...given, shard: flags.shard })
      : await reportTold(pipeline, { ...given, merge });
    progress.end();
    process.stdout.write(text);
    for (const warning of warnings) progress.say(warning, { event: 'warning' });
    for (const { id, why } of failed) progress.say(`patient ${id} failed: ${why}`, { event: 'failed' });
    return status;
  } catch (error) {
    progress.end();
    if (interrupt.signal.aborted) {
      progress.say(interruptedText(far), { event: 'interrupted', ...far });
      return 130;
    }
    if (!(error instanceof Problem)) throw error;
    progress.say(error.message, { event: 'refused' });
    return 2;
  } finally {
    interrupt.release();
  }
}

async function reportTold(pipeline: string, options: RunOptions): Promise<Told> {
  const outcome = await runPipeline(pipeline, options);
  const { unit, unprinted } = outcome;
  return {
    text: writtenText(outcome, options.pages ?? true),
    warnings: [
      ...unit.logs.flatMap(({ file, warnings }) => warnings.map((warning) => `${file}: ${warning}`)),
      ...outcome.warnings,
    ],
    failed: unit.failed,
    status: unit.failed.length > 0 || unprinted.length > 0 ? 1 : 0,
  };
}

async function shardTold(pipeline: string, options: ShardOptions): Promise<Told> {
  const outcome = await runShard(pipeline, options);
  return {
    text: shardText(outcome),
    warnings: outcome.notKept.map(({ file, why }) => `${file} is not stored, and merge will read it: ${why}`),
    failed: outcome.failed,
    status: outcome.failed.length > 0 ? 1 : 0,
  };
}
