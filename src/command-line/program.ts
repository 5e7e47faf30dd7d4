import { Command, InvalidArgumentError } from 'commander';
import { inspectFiles } from '../pipeline/inspect-files.js';
import { loadPipeline } from '../pipeline/load-pipeline.js';
import { PAPERS, type Paper } from '../pipeline/print/paper.js';
import type { Share } from '../pipeline/shares.js';
import { Problem } from '../recording/problem.js';
import { inspectionCard } from '../report/inspect/card.js';
import { visibleJson, visibleText } from '../report/visible-text.js';
import { VERSION } from '../version.js';
import { checkedText } from './checked.js';
import { dayCount, deidentifyCommand, timesMode } from './deidentify.js';
import { type RunFlags, run } from './run.js';
import { told } from './told.js';

const collect = (value: string, before: string[] = []): string[] => [...before, value];

function threadCount(text: string): number {
  const threads = Number(text);
  if (Number.isInteger(threads) && threads >= 1 && threads <= 64) return threads;
  throw new InvalidArgumentError('A whole number from 1 to 64 is expected.');
}

function paper(text: string): Paper {
  const named = PAPERS.find((one) => one.toLowerCase() === text.toLowerCase());
  if (named !== undefined) return named;
  throw new InvalidArgumentError(`${PAPERS.join(' or ')} is expected.`);
}

/** `3/8`. */
function share(text: string): Share {
  const match = /^(\d+)\/(\d+)$/.exec(text);
  if (!match) throw new InvalidArgumentError('A share as 3/8 is expected: the third of eight.');
  const [number, of] = [Number(match[1]), Number(match[2])];
  if (of < 1 || of > MOST_SHARES) {
    throw new InvalidArgumentError(`The number behind the slash has to be from 1 to ${MOST_SHARES}.`);
  }
  if (number >= 1 && number <= of) return { number, of };
  throw new InvalidArgumentError(`There is no share ${number} of ${of}: they are 1/${of} to ${of}/${of}.`);
}

const MOST_SHARES = 100_000;

interface SharedOptions {
  data?: string[];
  set?: string[];
}

/** What belongs to the report, which a shard does not write. */
const OF_REPORT = ['pdf', 'paper', 'strict'] as const;

async function runOrShard(pipeline: string, flags: RunFlags): Promise<number> {
  const wrong = flags.shard && OF_REPORT.find((name) => flags[name] !== undefined);
  if (wrong) {
    throw new Problem(`--${wrong} is about the report, and a shard writes none`, 'Give it to cistern merge.');
  }
  return run(pipeline, flags);
}

async function check(pipeline: string, flags: SharedOptions): Promise<number> {
  process.stdout.write(checkedText(await loadPipeline(pipeline, flags)));
  return 0;
}

interface InspectFlags {
  pipeline?: string;
  set?: string[];
  write?: string;
  json?: boolean;
}

async function inspect(files: string[], flags: InspectFlags): Promise<number> {
  const inspections = await inspectFiles(files, flags);
  process.stdout.write(
    flags.json
      ? `${visibleJson(JSON.stringify(inspections, null, 2))}\n`
      : inspections.map(inspectionCard).join('\n'),
  );
  if (flags.write !== undefined) {
    process.stderr.write(told(`wrote ${flags.write}; look through it, then: cistern run ${flags.write}`));
  }
  return inspections.some(({ problem }) => problem !== null) ? 1 : 0;
}

/** A command's action: keeps its status, and says a problem as one line. */
const status = { code: 0 };
const action =
  <Given, Flags>(work: (given: Given, flags: Flags) => Promise<number>) =>
  async (given: Given, flags: Flags): Promise<void> => {
    try {
      status.code = await work(given, flags);
    } catch (error) {
      if (!(error instanceof Problem)) throw error;
      process.stderr.write(told(error.message));
      status.code = 2;
    }
  };

const withSharedOptions = (command: Command): Command =>
  command
    .option('--data <path>', 'exports to read instead of those that the file names; repeatable', collect)
    .option(
      '--set <key=value>',
      'a value for one key, such as segment.icp.thresholdMmHg=20; repeatable',
      collect,
    );

function build(): Command {
  const cistern = new Command('cistern')
    .description(
      'Turns exported ICP and arterial pressures into reports. Looks back at data; no alarm, no medical device.',
    )
    .version(VERSION, '--version', 'print the version')
    .helpOption('--help', 'explain a command')
    .helpCommand(false)
    .showHelpAfterError('(cistern --help explains the commands)')
    .exitOverride()
    .configureOutput({ writeErr: (text) => process.stderr.write(visibleText(text)) })
    .addHelpText(
      'after',
      `
PIPELINE is a YAML file, or the name of one in the folder pipelines.

Examples:
  cistern run demo                                   the report of the invented demo unit
  cistern run morning --data exports --out tonight   your own exports, into the folder tonight
  cistern check my-unit.yaml                         is the pipeline file right?
  cistern inspect exports/bed-7.csv                  what is in this file, and how is it read?
  cistern deidentify unit.yaml --out shared --key key.csv   a copy without names and dates, for colleagues
  cistern run unit.yaml --shard 3/8 --out DIR        the third of eight shares, on one of several machines
  cistern merge unit.yaml --out DIR                  the report, once all shares are there

Exit status: 0 all written; 1 written, but some patients failed (named on the page)
or some pages could not be printed; 2 refused, nothing written; 130 interrupted.`,
    );
  withSharedOptions(cistern.command('run <PIPELINE>').description('read the exports and write the report'))
    .option('--out <folder>', 'the report folder itself (default: ./reports/<name>)')
    .option('--threads <n>', 'threads to work on (default: as many as the machine has)', threadCount)
    .option('--no-pages', 'write results.json and tables alone, which is several times faster')
    .option('--pdf', 'print each page as PDF beside it as well; needs Chromium on PATH')
    .option('--paper <name>', 'the paper of the PDFs, A4 or Letter (default: A4)', paper)
    .option('--strict', 'stop at the first patient that fails, and write nothing')
    .option('--fresh', 'read every patient anew, also where a run before has stored what came of it')
    .option('--shard <I/N>', 'one of N shares of the patients alone, for merge; writes no report', share)
    .option('--json-log', 'tell progress and messages as JSON, an object a line')
    .action(action(runOrShard));
  withSharedOptions(
    cistern
      .command('merge <PIPELINE>')
      .description('write the report of what all shards of a run have stored'),
  )
    .option('--out <folder>', 'the report folder, as given to the shards (default: ./reports/<name>)')
    .option('--threads <n>', 'threads to work on (default: as many as the machine has)', threadCount)
    .option('--no-pages', 'results.json and tables alone; shards have to be given it too')
    .option('--pdf', 'print each page as PDF beside it as well; needs Chromium on PATH')
    .option('--paper <name>', 'the paper of the PDFs, A4 or Letter (default: A4)', paper)
    .option('--strict', 'stop at the first patient that failed, and write nothing')
    .option('--json-log', 'tell progress and messages as JSON, an object a line')
    .action(action((pipeline: string, flags: RunFlags) => run(pipeline, flags, true)));
  withSharedOptions(
    cistern
      .command('check <PIPELINE>')
      .description('say whether the pipeline file is right; reads no exports'),
  ).action(action(check));
  withSharedOptions(
    cistern
      .command('deidentify <PIPELINE>')
      .description('write the exports, logs and cohort table for sharing: codes, no dates, no free text'),
  )
    .requiredOption('--out <folder>', 'the shared folder itself')
    .requiredOption('--key <file>', 'a new file that tells who is who; never inside the shared folder')
    .option(
      '--times <how>',
      'elapsed, since the start of monitoring (default), or shifted, dates moved at random: not Safe Harbor',
      timesMode,
    )
    .option('--days <n>', 'move dates by up to so many days to either side (default: 365)', dayCount)
    .action(action(deidentifyCommand));
  cistern
    .command('inspect <FILE...>')
    .description('say what was understood of exports, logs and tables; changes nothing')
    .option('--pipeline <PIPELINE>', 'read them as this pipeline file says')
    .option('--set <key=value>', 'a value for one key, such as timezone=Europe/Oslo; repeatable', collect)
    .option('--write <file>', 'write a pipeline file that says what was understood')
    .option('--json', 'print the same for machines')
    .action(action(inspect));
  return cistern;
}

/** Runs the command line and gives the exit status. */
export async function program(args: readonly string[]): Promise<number> {
  status.code = 0;
  await build().parseAsync(args, { from: 'user' });
  return status.code;
}
