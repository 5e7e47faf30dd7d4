import type { PipelineOptions } from './load-pipeline.js';
import type { Share } from './shares.js';

/** What of the options a command has to say again. */
export interface CommandOptions extends PipelineOptions {
  readonly out?: string | undefined;
  readonly pages?: boolean | undefined;
}

/** Quoted for a shell where it has to be. */
const quoted = (text: string): string =>
  /^[\w@%+=:,./-]+$/.test(text) ? text : `'${text.replaceAll("'", "'\\''")}'`;

const command = (
  words: readonly string[],
  { out, data = [], set = [], pages = true }: CommandOptions,
): string =>
  [
    'cistern',
    ...words,
    ...(out === undefined ? [] : ['--out', out]),
    ...data.flatMap((path) => ['--data', path]),
    ...set.flatMap((one) => ['--set', one]),
    ...(pages ? [] : ['--no-pages']),
  ]
    .map(quoted)
    .join(' ');

/** The command that runs a share of this pipeline with the same options, for a person to copy. */
export const shardCommand = (given: string, options: CommandOptions, { number, of }: Share): string =>
  command(['run', given, '--shard', `${number}/${of}`], options);

/** The one that merges the shards of it. */
export const mergeCommand = (given: string, options: CommandOptions): string =>
  command(['merge', given], options);

/** The one that reads here whom the store lacks, and writes the report. */
export const runCommand = (given: string, options: CommandOptions): string =>
  command(['run', given], options);
