/**
 * `npm run bench:plan`: what stays cost on a cluster, for pipelines/cluster/README.md: shards and their merge on one core, at
 * 1 Hz and as a waveform of 125 Hz, with and without pages. Writes tests/bench/plan.json, and `npm run bench:plan -- --page`
 * writes the page of it without measuring. Data are invented, and written to a temporary folder (1 GB).
 */
import {
  closeSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { waveRows } from '../support/waves.js';
import { asScript } from './as-script.js';
import { measuredRun, type Run } from './measured-run.js';
import { inventedPatient } from './patient.js';
import { patientCsv } from './patient-csv.js';
import { type MeasuredPlan, type MeasuredStay, planPage, STAY_HOURS } from './plan-page.js';
import { median } from './table.js';

const MAIN = fileURLToPath(new URL('../../dist/command-line/main.js', import.meta.url));
const FIGURES = fileURLToPath(new URL('plan.json', import.meta.url));
const PAGE = fileURLToPath(new URL('../../pipelines/cluster/README.md', import.meta.url));
const RUNS = 3;
/** Of the stays whose merge is measured: what a merge holds of them hangs on hours and episodes, not on rows. */
const MERGED_EVERY_SECONDS = 60;

interface Kind {
  readonly kind: string;
  readonly samplesPerSecond: number;
  readonly stays: number;
  readonly hours: number;
  readonly write: (path: string, stay: number, hours: number) => void;
}

const KINDS: readonly Kind[] = [
  {
    kind: '1 Hz, ICP and MAP',
    samplesPerSecond: 1,
    stays: 12,
    hours: 120,
    write: (path, stay, hours) => writeFileSync(path, patientCsv(inventedPatient(stay + 1, hours * 3600))),
  },
  {
    kind: '125 Hz, ICP and ABP',
    samplesPerSecond: 125,
    stays: 2,
    hours: 24,
    write: (path, _, hours) => {
      const file = openSync(path, 'w');
      try {
        for (const piece of waveRows({ samplesPerSecond: 125, seconds: hours * 3600 }))
          writeSync(file, piece);
      } finally {
        closeSync(file);
      }
    },
  },
];

const bytesIn = (folder: string): number =>
  readdirSync(folder).reduce((sum, name) => sum + statSync(join(folder, name)).size, 0);

async function measure(scratch: string, kind: Kind): Promise<MeasuredStay> {
  const folder = join(scratch, String(kind.samplesPerSecond));
  const exports = join(folder, 'exports');
  mkdirSync(exports, { recursive: true });
  for (let stay = 0; stay < kind.stays; stay++)
    kind.write(join(exports, `${stay + 1}.csv`), stay, kind.hours);
  const pipeline = join(folder, 'unit.yaml');
  writeFileSync(pipeline, 'exports: exports\ntimezone: UTC\nperiod: all\nreport: morning\n');
  const store = join(folder, '.report.store');
  const run = (...args: readonly string[]): Promise<Run> =>
    measuredRun([process.execPath, MAIN, ...args, '--out', join(folder, 'report'), '--threads', '1'], '0');
  const starts: Run[] = [];
  const shards: Run[] = [];
  const withPages: Run[] = [];
  const merges: Run[] = [];
  let storeBytes = 0;
  for (let k = 0; k < RUNS; k++) {
    // A share that nobody is in: what starting takes.
    const none = kind.stays + 1;
    starts.push(await run('run', pipeline, '--shard', `${none}/${none}`, '--no-pages'));
    rmSync(store, { recursive: true, force: true });
    withPages.push(await run('run', pipeline, '--shard', '1/1'));
    rmSync(store, { recursive: true, force: true });
    shards.push(await run('run', pipeline, '--shard', '1/1', '--no-pages'));
    storeBytes = bytesIn(store);
    merges.push(await run('merge', pipeline, '--no-pages'));
  }
  const middle = (runs: readonly Run[], key: 'cpuSeconds' | 'peakMb'): number =>
    median(runs.map((one) => one[key]));
  const { write: _, ...what } = kind;
  return {
    ...what,
    rows: kind.stays * kind.hours * 3600 * kind.samplesPerSecond,
    bytes: bytesIn(exports),
    startSeconds: middle(starts, 'cpuSeconds'),
    shardSeconds: middle(shards, 'cpuSeconds'),
    shardSecondsWithPages: middle(withPages, 'cpuSeconds'),
    mergeSeconds: middle(merges, 'cpuSeconds'),
    shardMb: middle(shards, 'peakMb'),
    mergeMb: middle(merges, 'peakMb'),
    storeBytes,
  };
}

/** For a process of Node to take up first: clears memory again and again, and tells at the end what was in use at most, bytes. */
const liveHook = (told: string): string => `
  import { writeFileSync } from 'node:fs';
  let most = 0;
  setInterval(() => {
    globalThis.gc();
    const { heapUsed, external } = process.memoryUsage();
    most = Math.max(most, heapUsed + external);
  }, 500).unref();
  process.on('exit', () => writeFileSync(${JSON.stringify(told)}, String(most)));
`;

/**
 * What each stay adds to what a merge has to hold: many of them, as shards stored them, against few. Resident memory would
 * not tell, since what is free is cleared late.
 */
async function mergeKbAStay(scratch: string): Promise<number> {
  const held = async (stays: number): Promise<number> => {
    const folder = join(scratch, `merge-${stays}`);
    mkdirSync(join(folder, 'exports'), { recursive: true });
    const [header, ...rows] = patientCsv(inventedPatient(1, STAY_HOURS * 3600))
      .toString()
      .split('\n');
    const text = `${[header, ...rows.filter((_, i) => i % MERGED_EVERY_SECONDS === 0)].join('\n')}\n`;
    for (let stay = 0; stay < stays; stay++) writeFileSync(join(folder, 'exports', `${stay + 1}.csv`), text);
    const pipeline = join(folder, 'unit.yaml');
    writeFileSync(pipeline, 'exports: exports\ntimezone: UTC\nperiod: all\nreport: morning\n');
    const [hook, told] = [join(folder, 'live.mjs'), join(folder, 'live')];
    writeFileSync(hook, liveHook(told));
    const rest = [pipeline, '--no-pages', '--out', join(folder, 'report'), '--threads', '1'];
    await measuredRun([process.execPath, MAIN, 'run', '--shard', '1/1', ...rest], null);
    await measuredRun([process.execPath, '--expose-gc', '--import', hook, MAIN, 'merge', ...rest], '0');
    return Number(readFileSync(told, 'utf8')) / 1000;
  };
  const [few, many] = [10, 1000];
  return Math.max(0, (await held(many)) - (await held(few))) / (many - few);
}

/** Puts the measured part between its marks. */
function writePage(measured: MeasuredPlan): void {
  const [before, , after] = readFileSync(PAGE, 'utf8').split(/<!-- measured -->\n|<!-- end -->\n/);
  writeFileSync(PAGE, `${before}<!-- measured -->\n${planPage(measured)}<!-- end -->\n${after}`);
}

if (process.argv.includes('--page')) writePage(JSON.parse(readFileSync(FIGURES, 'utf8')) as MeasuredPlan);
else {
  await asScript('plan', async (scratch) => {
    const kinds: MeasuredStay[] = [];
    for (const kind of KINDS) kinds.push(await measure(scratch, kind));
    const measured = {
      machine: `one core of an ${cpus()[0].model.trim()}, Node ${process.versions.node}`,
      kinds,
      mergeKbAStay: await mergeKbAStay(scratch),
    };
    writeFileSync(FIGURES, `${JSON.stringify(measured, null, 2)}\n`);
    writePage(measured);
    console.log(planPage(measured));
    return 0;
  });
}
