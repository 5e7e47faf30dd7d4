/**
 * `npm run soak`: a run on exports of a given total size, and the most memory that it took. Exits with 1 where that is
 * over the limit. Options: --gigabytes N (10), --days N (5, of each patient), --most-mb N (400), --data DIR (temporary
 * where left out), --dist DIR, --threads N, --write FILE (the table, as markdown).
 */
import { linkSync, mkdirSync, statfsSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { asScript } from './as-script.js';
import { PIPELINE, patientName } from './cohort.js';
import { measuredRun } from './measured-run.js';
import { inventedPatient } from './patient.js';
import { patientCsv } from './patient-csv.js';
import { ours, rowsRead } from './programs.js';
import { table } from './table.js';
import { machineLine } from './timing.js';

const { values } = parseArgs({
  options: {
    gigabytes: { type: 'string', default: '10' },
    days: { type: 'string', default: '5' },
    'most-mb': { type: 'string', default: '400' },
    data: { type: 'string', default: tmpdir() },
    dist: { type: 'string', default: fileURLToPath(new URL('../../dist', import.meta.url)) },
    threads: { type: 'string' },
    write: { type: 'string' },
  },
});

const GIGABYTE = 1e9;
/** Different patients; further ones are the same bytes under other names, so that making them takes seconds. */
const DIFFERENT = 12;
/** Room for the report, as a share of the exports. */
const REPORT_SHARE = 0.1;

const positive = (key: 'gigabytes' | 'days' | 'most-mb'): number => {
  const value = Number(values[key]);
  if (value > 0) return value;
  throw new Error(`--${key} ${values[key]}: a number over 0 is expected.`);
};

/** @throws Error where the disk is too full */
function refuseFullDisk(folder: string, needed: number): void {
  const { bavail, bsize } = statfsSync(folder);
  const free = bavail * bsize;
  if (free >= needed) return;
  throw new Error(
    `The disk of ${folder} has ${(free / GIGABYTE).toFixed(1)} GB free, and the soak needs ${(needed / GIGABYTE).toFixed(1)} GB; name another folder with --data, or fewer --gigabytes.`,
  );
}

/** Writes exports of at least so many bytes; gives their number and size. */
function writeExports(folder: string, bytes: number, days: number): { patients: number; bytes: number } {
  let patients = 0;
  let written = 0;
  while (written < bytes) {
    const path = join(folder, `${patientName(++patients)}.csv`);
    if (patients <= DIFFERENT)
      writeFileSync(path, patientCsv(inventedPatient(patients, Math.round(days * 86_400))));
    else linkSync(join(folder, `${patientName(((patients - 1) % DIFFERENT) + 1)}.csv`), path);
    written += statSync(path).size;
  }
  return { patients, bytes: written };
}

async function soak(scratch: string): Promise<number> {
  const limit = positive('most-mb');
  const wanted = positive('gigabytes') * GIGABYTE;
  const days = positive('days');
  const exports = join(scratch, 'exports');
  mkdirSync(exports);
  // Twelve patients are written, the others are links to them.
  const onDisk = Math.min(wanted, DIFFERENT * days * 86_400 * 31);
  refuseFullDisk(scratch, onDisk + REPORT_SHARE * wanted);
  const { patients, bytes } = writeExports(exports, wanted, days);
  const pipeline = join(scratch, 'unit.yaml');
  writeFileSync(pipeline, PIPELINE);
  process.stderr.write(`${patients} exports, ${(bytes / GIGABYTE).toFixed(2)} GB in ${exports}\n`);
  const cohort = { folder: scratch, exports, pipeline, bytes, patients, hours: 24 * days };
  const threads = values.threads ? ['--threads', values.threads] : [];
  const run = await measuredRun(
    [...ours(resolve(values.dist)).command(cohort, join(scratch, 'out')), ...threads],
    null,
  );
  const rows = rowsRead(run.stdout);
  const result = table(
    ['gigabytes', 'patients', 'rows', 'wall s', 'CPU s', 'rows/s', 'peak MB', 'limit MB'],
    [
      [
        (bytes / GIGABYTE).toFixed(2),
        String(patients),
        String(rows),
        run.wallSeconds.toFixed(1),
        run.cpuSeconds.toFixed(1),
        (rows / run.wallSeconds).toFixed(0),
        run.peakMb.toFixed(0),
        String(limit),
      ],
    ],
  );
  const text = `# A soak on invented exports

Patients of ${days} days at 1 Hz; ${Math.min(patients, DIFFERENT)} are different, the others the same bytes under other names. Peak memory is that of the whole process, all threads included. Other processes used ${run.othersCores.toFixed(2)} cores meanwhile.
${machineLine('all')}

${result}
`;
  console.log(text);
  if (values.write) writeFileSync(resolve(values.write), text);
  if (run.peakMb <= limit) return 0;
  process.stderr.write(`The run took ${run.peakMb.toFixed(0)} MB, and ${limit} MB is the limit.\n`);
  return 1;
}

mkdirSync(values.data, { recursive: true });
await asScript('soak', soak, { within: resolve(values.data) });
