/**
 * `npm run bench:waveform`: a run of the morning report on a waveform of one hour and of one day, as fresh processes: time,
 * rows a second and the most memory, and the ratio of the two. Data are invented, and written to a temporary folder (360 MB).
 * Options: --hours LIST (1,24), --rate N (125), --runs N (3), --cores LIST (0), --dist DIR.
 */
import { closeSync, openSync, rmSync, writeFileSync, writeSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { waveRows } from '../support/waves.js';
import { asScript } from './as-script.js';
import { measuredRun, type Run } from './measured-run.js';
import { ours } from './programs.js';
import { median, table } from './table.js';
import { machineLine } from './timing.js';

const { values } = parseArgs({
  options: {
    hours: { type: 'string', default: '1,24' },
    rate: { type: 'string', default: '125' },
    runs: { type: 'string', default: '3' },
    cores: { type: 'string', default: '0' },
    dist: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
  },
});

const program = ours(resolve(values.dist));
const rate = Number(values.rate);

function writeWave(path: string, hours: number): void {
  const file = openSync(path, 'w');
  try {
    for (const piece of waveRows({ samplesPerSecond: rate, seconds: hours * 3600 })) writeSync(file, piece);
  } finally {
    closeSync(file);
  }
}

/** Fresh processes on one waveform, one after the other. */
async function runsOn(scratch: string, hours: number): Promise<Run[]> {
  const pipeline = join(scratch, 'unit.yaml');
  const exports = join(scratch, `wave-${hours}.csv`);
  const out = join(scratch, 'report');
  writeFileSync(pipeline, 'exports: none\ntimezone: UTC\nperiod: all\nreport: morning\n');
  writeWave(exports, hours);
  const runs: Run[] = [];
  for (let k = 0; k < Number(values.runs); k++) {
    rmSync(out, { recursive: true, force: true });
    const command = program.command(
      { pipeline, exports, folder: scratch, bytes: 0, patients: 1, hours },
      out,
    );
    runs.push(await measuredRun([...command, '--threads', '1'], values.cores));
  }
  rmSync(exports);
  return runs;
}

await asScript('waveform', async (scratch) => {
  const rows: string[][] = [];
  const peaks: number[] = [];
  for (const hours of values.hours.split(',').map(Number)) {
    const runs = await runsOn(scratch, hours);
    const middle = (key: 'wallSeconds' | 'cpuSeconds' | 'peakMb' | 'othersCores'): number =>
      median(runs.map((run) => run[key]));
    const lines = hours * 3600 * rate;
    peaks.push(middle('peakMb'));
    rows.push([
      String(hours),
      (lines / 1e6).toFixed(2),
      middle('wallSeconds').toFixed(2),
      middle('cpuSeconds').toFixed(2),
      (lines / 1e6 / middle('cpuSeconds')).toFixed(2),
      middle('peakMb').toFixed(0),
      (peaks[peaks.length - 1] / peaks[0]).toFixed(2),
      middle('othersCores').toFixed(2),
    ]);
  }
  const header = [
    'hours',
    'million rows',
    'wall s',
    'CPU s',
    'million rows a CPU s',
    'peak MB',
    'x the first',
  ];
  process.stdout.write(
    `${table([...header, 'cores used by others'], rows)}\n\n${machineLine(values.cores)}\n`,
  );
  return 0;
});
