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

/** The command that runs a share of this pipeline with the same options, for a person to copy. */
export function shardCommand(given: string, options: CommandOptions, { number, of }: Share): string {
  const { out, data = [], set = [], pages = true } = options;
  return [
    'cistern',
    'run',
    given,
    '--shard',
    `${number}/${of}`,
    ...(out === undefined ? [] : ['--out', out]),
    ...data.flatMap((path) => ['--data', path]),
    ...set.flatMap((one) => ['--set', one]),
    ...(pages ? [] : ['--no-pages']),
  ]
    .map(quoted)
    .join(' ');
}
