/**
 * `npm run bench:study`: the outcome study of 300 patients of 5 days at 1 Hz, ICP and MAP, 130 million rows, as a fresh
 * process on two threads: seconds, rows a second and the most memory; then where the time goes in one thread, and how long
 * the map and its draws of patients take, against the whole of a thread's work. Data are invented.
 * Options: --data DIR (the cohort is made there once, and kept), --patients N (300), --days N (5), --runs N (1),
 * --cores LIST (0,1), --stages N (6 patients; 0 for none), --stages-only, --no-optimal, --pages (drawn too), --dist DIR.
 */
import { rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { asScript } from './as-script.js';
import { measuredRun, type Run } from './measured-run.js';
import { ours, rowsRead } from './programs.js';
import { type StudyOnDisk, studyIn, WHOLE_STUDY } from './study-data.js';
import { mapSeconds, stagesOf } from './study-stages.js';
import { median, table } from './table.js';
import { machineLine } from './timing.js';

const { values } = parseArgs({
  options: {
    data: { type: 'string' },
    patients: { type: 'string', default: String(WHOLE_STUDY.patients) },
    days: { type: 'string', default: String(WHOLE_STUDY.days) },
    runs: { type: 'string', default: '1' },
    cores: { type: 'string', default: '0,1' },
    stages: { type: 'string', default: '6' },
    'stages-only': { type: 'boolean', default: false },
    'no-optimal': { type: 'boolean', default: false },
    pages: { type: 'boolean', default: false },
    dist: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
  },
});

const DIST = resolve(values.dist);
const RESAMPLES = 1000;

async function wholeRuns(study: StudyOnDisk, scratch: string): Promise<void> {
  const cohort = { ...study, bytes: 0, hours: 24 * study.days };
  const out = join(scratch, 'report');
  const threads = String(values.cores.split(',').length);
  const command = [...ours(DIST).command(cohort, out), '--threads', threads].filter(
    (word) => !values.pages || word !== '--no-pages',
  );
  const runs: Run[] = [];
  for (let k = 0; k < Number(values.runs); k++) {
    rmSync(out, { recursive: true, force: true });
    const run = await measuredRun(command, values.cores);
    const read = rowsRead(run.stdout);
    if (read !== study.rows) throw new Error(`${read} rows were read, and ${study.rows} were written`);
    runs.push(run);
    process.stderr.write(`run ${k + 1}: ${run.wallSeconds.toFixed(1)} s, ${run.peakMb.toFixed(0)} MB\n`);
  }
  const of = (key: 'wallSeconds' | 'cpuSeconds' | 'peakMb' | 'othersCores') =>
    median(runs.map((run) => run[key]));
  console.log(
    table(
      ['what', 'wall s', 'CPU s', 'million rows/s', 'peak MB', 'cores used by others'],
      [
        [
          `report: study, ${threads} threads`,
          of('wallSeconds').toFixed(1),
          of('cpuSeconds').toFixed(1),
          (study.rows / 1e6 / of('wallSeconds')).toFixed(2),
          of('peakMb').toFixed(0),
          of('othersCores').toFixed(2),
        ],
      ],
    ),
  );
}

/** Seconds of each stage for all patients, from a few of them, with its share of the whole. */
async function stageTable(study: StudyOnDisk, hasOptimal: boolean): Promise<void> {
  const { stages, mapped } = await stagesOf(DIST, study.pipeline, Number(values.stages), hasOptimal);
  const map = await mapSeconds(DIST, mapped, study.patients, RESAMPLES);
  const forAll = (seconds: number): number => (seconds * study.patients) / stages.patients;
  const optimal = stages.studyWithOptimal === null ? 0 : stages.studyWithOptimal - stages.study;
  const rows: [string, number][] = [
    ['reading', forAll(stages.ingest)],
    ['cleaning', forAll(stages.clean)],
    ['features and grids', forAll(stages.study)],
    ...(hasOptimal ? [['optimal CPP', forAll(optimal)] as [string, number]] : []),
    ['a map', map.map],
    [`its ${RESAMPLES} draws of patients`, map.draws],
  ];
  const whole = rows.reduce((sum, [, seconds]) => sum + seconds, 0);
  console.log(
    `\nCPU seconds for ${study.patients} patients, from ${stages.patients} of them (${(stages.rows / 1e6).toFixed(1)} million rows), one after the other\n`,
  );
  console.log(
    table(
      ['stage', 'CPU s', 'share'],
      [...rows, ['all', whole] as const].map(([name, seconds]) => [
        name,
        seconds.toFixed(2),
        (seconds / whole).toFixed(3),
      ]),
    ),
  );
}

await asScript('study', async (scratch) => {
  const size = { patients: Number(values.patients), days: Number(values.days) };
  const folder = values.data ? resolve(values.data) : join(scratch, 'cohort');
  const hasOptimal = !values['no-optimal'];
  const study = await studyIn(folder, size, hasOptimal);
  console.log(`${study.patients} invented patients, ${(study.rows / 1e6).toFixed(1)} million rows\n`);
  if (!values['stages-only']) await wholeRuns(study, scratch);
  if (Number(values.stages) > 0) await stageTable(study, hasOptimal);
  console.log(`\n${machineLine(values.cores)}`);
  return 0;
});
