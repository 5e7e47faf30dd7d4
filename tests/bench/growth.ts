/**
 * `npm run bench:growth`: how the time of a row grows with patients and with days, start-up taken off; a chart and a
 * table go into a folder. Options: --runs N (3), --out DIR (.scratch/growth), --cores LIST (0), --dist DIR,
 * --most-patients N (1000), --most-days N (30).
 */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { renderSvg } from '../../src/report/charts/render.js';
import { asScript } from './as-script.js';
import { type CohortSize, cohortIn } from './cohort.js';
import { type GrowthPoint, growthSpec } from './growth-chart.js';
import { measuredRun, type Run } from './measured-run.js';
import { ours, rowsRead } from './programs.js';
import { median, table } from './table.js';
import { machineLine } from './timing.js';

const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '3' },
    out: { type: 'string', default: fileURLToPath(new URL('../../.scratch/growth', import.meta.url)) },
    cores: { type: 'string', default: '0' },
    dist: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
    'most-patients': { type: 'string', default: '1000' },
    'most-days': { type: 'string', default: '30' },
  },
});

const STAY_HOURS = 1;
const PATIENTS = [1, 10, 50, 100, 200, 500, 1000].filter((n) => n <= Number(values['most-patients']));
const DAYS = [1, 2, 5, 10, 20, 30].filter((n) => n <= Number(values['most-days']));
/** So little data that what it takes is start-up. */
const NEXT_TO_NOTHING: CohortSize = { patients: 1, hours: 1 / 60 };

const program = ours(resolve(values.dist));

interface Took {
  readonly rows: number;
  readonly wallSeconds: number;
  readonly cpuSeconds: number;
  readonly peakMb: number;
  readonly othersCores: number;
}

/** Medians over fresh processes, one thread each, so that a patient more is no thread more. */
async function measured(size: CohortSize, scratch: string): Promise<Took> {
  const cohort = cohortIn(join(scratch, 'cohort'), size);
  const out = join(scratch, 'out');
  const command = [...program.command(cohort, out), '--threads', '1'];
  const runs: Run[] = [];
  let rows = 0;
  for (let k = 0; k < Number(values.runs); k++) {
    rmSync(out, { recursive: true, force: true });
    const run = await measuredRun(command, values.cores);
    rows = rowsRead(run.stdout);
    runs.push(run);
  }
  const middle = (key: 'wallSeconds' | 'cpuSeconds' | 'peakMb' | 'othersCores'): number =>
    median(runs.map((run) => run[key]));
  return {
    rows,
    wallSeconds: middle('wallSeconds'),
    cpuSeconds: middle('cpuSeconds'),
    peakMb: middle('peakMb'),
    othersCores: middle('othersCores'),
  };
}

const seconds = (n: number): string => n.toFixed(2);
const micro = (n: number): string => (n * 1e6).toFixed(2);

async function growth(scratch: string): Promise<number> {
  const startUp = await measured(NEXT_TO_NOTHING, scratch);
  const points: GrowthPoint[] = [];
  const rows: string[][] = [];
  const sizes = [
    ...PATIENTS.map((n) => ({ n, by: 'patients' as const, patients: n, hours: STAY_HOURS })),
    ...DAYS.map((n) => ({ n, by: 'days' as const, patients: 1, hours: 24 * n })),
  ];
  for (const { n, by, ...size } of sizes) {
    const took = await measured(size, scratch);
    const perRow = (key: 'wallSeconds' | 'cpuSeconds'): number => (took[key] - startUp[key]) / took.rows;
    points.push({ n, by, microseconds: perRow('cpuSeconds') * 1e6 });
    const what = by === 'patients' ? `${n} x ${STAY_HOURS} h` : `1 x ${n} d`;
    rows.push([
      what,
      String(took.rows),
      seconds(took.wallSeconds),
      seconds(took.cpuSeconds),
      micro(perRow('wallSeconds')),
      micro(perRow('cpuSeconds')),
      took.peakMb.toFixed(0),
      took.othersCores.toFixed(2),
    ]);
    process.stderr.write(`${rows.at(-1)?.join(' | ')}\n`);
  }
  const header = [
    'patients x stay',
    'rows',
    'wall s',
    'CPU s',
    'wall µs a row',
    'CPU µs a row',
    'peak MB',
    'cores used by others',
  ];
  const folder = resolve(values.out);
  mkdirSync(folder, { recursive: true });
  const text = `# How the time of a row grows

Invented data at 1 Hz, one thread, medians of ${values.runs} runs. Start-up (${seconds(startUp.wallSeconds)} s, CPU ${seconds(startUp.cpuSeconds)} s: a run on one minute of one patient) is taken off the time of a row, not off the seconds. In small data the rest is mostly code that runs for the first time and is compiled meanwhile.
${machineLine(values.cores)}

${table(header, rows)}
`;
  writeFileSync(join(folder, 'growth.md'), text);
  writeFileSync(join(folder, 'growth.svg'), await renderSvg(growthSpec(points), 'growth'));
  console.log(`${text}\nThe chart and this table are in ${folder}`);
  return 0;
}

await asScript('growth', growth);
