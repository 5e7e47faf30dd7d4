/**
 * `npm run bench:audit`: the audit of a month of twelve beds at 1 Hz, 31 million rows and about 20,000 alarms, as fresh
 * processes on two threads: seconds, rows a second, the most memory, and the ratio to reading the same exports alone with
 * our own ingest in one thread. Data are invented.
 * Options: --data DIR (the month is made there once, and kept), --beds N (12), --days N (30), --runs N (3),
 * --cores LIST (0,1), --report NAME, --pages (drawn too), --dist DIR.
 */
import { rmSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { WHOLE_MONTH } from '../../fixtures/generator/audit/units.js';
import { asScript } from './as-script.js';
import { measuredRun, type Run } from './measured-run.js';
import { MONTH_REPORT, type Month, monthIn } from './month-data.js';
import { floors, ours, type Program, rowsRead } from './programs.js';
import { median, table } from './table.js';
import { machineLine } from './timing.js';

const { values } = parseArgs({
  options: {
    data: { type: 'string' },
    beds: { type: 'string', default: String(WHOLE_MONTH.beds) },
    days: { type: 'string', default: String(WHOLE_MONTH.days) },
    runs: { type: 'string', default: '3' },
    cores: { type: 'string', default: '0,1' },
    report: { type: 'string', default: MONTH_REPORT },
    pages: { type: 'boolean', default: false },
    dist: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
  },
});

const THREADS = '2';
const DIST = resolve(values.dist);

/** The reading alone: the last of the floors. */
const reading = (): Program => {
  const found = floors(DIST, 1).find(({ name }) => name.startsWith('our ingest'));
  if (found) return found;
  throw new Error('no floor of the benchmark is our ingest');
};

/** Fresh processes of both programs in turn, so that a slow minute of the machine meets both. */
async function runsInTurn(month: Month, scratch: string): Promise<{ audit: Run[]; ingest: Run[] }> {
  const cohort = { ...month, bytes: 0, hours: 24 * month.days };
  const out = join(scratch, 'report');
  const command = [...ours(DIST).command(cohort, out), '--threads', THREADS].filter(
    (word) => !values.pages || word !== '--no-pages',
  );
  const floor = reading();
  const done: { audit: Run[]; ingest: Run[] } = { audit: [], ingest: [] };
  for (let k = 0; k < Number(values.runs); k++) {
    rmSync(out, { recursive: true, force: true });
    const run = await measuredRun(command, values.cores);
    const read = rowsRead(run.stdout);
    if (read !== month.rows) throw new Error(`${read} rows were read, and ${month.rows} were written`);
    done.audit.push(run);
    done.ingest.push(await measuredRun(floor.command(cohort, out), values.cores));
    process.stderr.write(`run ${k + 1}: ${run.wallSeconds.toFixed(1)} s, ${run.peakMb.toFixed(0)} MB\n`);
  }
  return done;
}

await asScript('audit', async (scratch) => {
  const size = { beds: Number(values.beds), days: Number(values.days) };
  const folder = values.data ? resolve(values.data) : join(scratch, 'month');
  const month = await monthIn(folder, size, values.report);
  const { audit, ingest } = await runsInTurn(month, scratch);
  const middle = (runs: readonly Run[], key: 'wallSeconds' | 'cpuSeconds' | 'peakMb' | 'othersCores') =>
    median(runs.map((run) => run[key]));
  const row = (name: string, runs: readonly Run[]): string[] => [
    name,
    middle(runs, 'wallSeconds').toFixed(1),
    (middle(runs, 'wallSeconds') / middle(ingest, 'wallSeconds')).toFixed(2),
    middle(runs, 'cpuSeconds').toFixed(1),
    (middle(runs, 'cpuSeconds') / middle(ingest, 'cpuSeconds')).toFixed(2),
    (month.rows / 1e6 / middle(runs, 'wallSeconds')).toFixed(2),
    middle(runs, 'peakMb').toFixed(0),
    middle(runs, 'othersCores').toFixed(2),
  ];
  const header = [
    ...['what', 'wall s', 'x reading', 'CPU s', 'x reading', 'million rows/s', 'peak MB'],
    'cores used by others',
  ];
  console.log(
    `${month.patients} invented patients, ${(month.rows / 1e6).toFixed(1)} million rows, ${month.alarms} alarms; medians of ${values.runs} runs in turn\n`,
  );
  console.log(
    table(header, [
      row(`report: ${values.report}, ${THREADS} threads`, audit),
      row('our ingest alone, one thread', ingest),
    ]),
  );
  console.log(`\n${machineLine(values.cores)}`);
  return 0;
});
