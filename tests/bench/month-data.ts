import { fork } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type AlarmLine, alarmLog } from '../../fixtures/generator/audit/alarm-log.js';
import { type CareLine, careLog } from '../../fixtures/generator/audit/care-log.js';
import { cohortTable, occupancyTable } from '../../fixtures/generator/audit/tables.js';
import type { TruthPatient } from '../../fixtures/generator/audit/truth.js';
import { MONTH_STYLE, type MonthSize, monthPlans } from '../../fixtures/generator/audit/units.js';

/** The report that is made of the month where nothing else is said. */
export const MONTH_REPORT = 'audit';

/** Raised whenever other data would be made, so that a kept folder is not taken for today's. */
const GENERATOR = 2;
const MARKER = 'month.json';
const WORKERS = 2;

/** A month on disk: `exports` holds one CSV a patient, `unit.yaml` the job, and the logs and tables lie beside it. */
export interface Month extends MonthSize {
  readonly folder: string;
  readonly exports: string;
  readonly pipeline: string;
  readonly patients: number;
  /** Rows of all exports, without headers. */
  readonly rows: number;
  readonly alarms: number;
}

/** What a worker tells of the patients whose exports it has written. */
export interface WorkersPart {
  readonly alarms: readonly AlarmLine[];
  readonly care: readonly CareLine[];
  readonly patients: readonly TruthPatient[];
  readonly rows: number;
}

const AUDIT = `cohort: cohort.csv
audit:
  per: week
  present: { limitMmHg: ${MONTH_STYLE.before.icpLimitMmHg}, delaySeconds: ${MONTH_STYLE.before.delaySeconds} }
`;

/** The pipeline file of the month. */
export const monthPipeline = (report: string): string => `# Invented data.
name: alarm-audit-month
title: Lantern Bay neuro intensive care (invented), a month of alarms
exports: exports
alarms: { files: alarm-log.csv, shiftSeconds: -${MONTH_STYLE.logLateSeconds} }
care: care-log.csv
occupancy: occupancy.csv
timezone: Europe/Oslo
patient:
  fileName: ^patient-(\\d+)
period: all
${report === 'audit' ? AUDIT : ''}report: ${report}
`;

/** Every second patient is written by a process of its own. */
function partOf(exports: string, size: MonthSize, part: number): Promise<WorkersPart> {
  const worker = fileURLToPath(new URL('month-worker.ts', import.meta.url));
  const args = [exports, size.beds, size.days, part, WORKERS].map(String);
  return new Promise((resolve, reject) => {
    const child = fork(worker, args, { serialization: 'advanced' });
    let told: WorkersPart | null = null;
    child.on('message', (message) => {
      told = message as WorkersPart;
    });
    child.on('error', reject);
    child.on('close', (status) => {
      if (status === 0 && told) resolve(told);
      else reject(new Error(`the month's data were not written: a worker ended with status ${status}`));
    });
  });
}

async function write(folder: string, exports: string, size: MonthSize): Promise<Omit<WorkersPart, 'care'>> {
  const parts = await Promise.all(Array.from({ length: WORKERS }, (_, part) => partOf(exports, size, part)));
  const plans = monthPlans(size);
  const alarms = parts.flatMap((part) => part.alarms);
  const patients = parts.flatMap((part) => part.patients).sort((a, b) => Number(a.id) - Number(b.id));
  const store = (name: string, text: string): void => writeFileSync(join(folder, name), text);
  store('alarm-log.csv', alarmLog(alarms, MONTH_STYLE));
  store('care-log.csv', careLog(parts.flatMap((part) => part.care)));
  store(
    'occupancy.csv',
    occupancyTable(plans, () => 0),
  );
  store('cohort.csv', cohortTable(plans));
  store('truth.json', `${JSON.stringify({ says: 'Invented.', patients }, null, 1)}\n`);
  return { alarms, patients, rows: parts.reduce((sum, part) => sum + part.rows, 0) };
}

/** Writes the month into the folder; one of the same size that stands there is used again. */
export async function monthIn(folder: string, size: MonthSize, report: string): Promise<Month> {
  const exports = join(folder, 'exports');
  const marker = join(folder, MARKER);
  const wanted = { generator: GENERATOR, beds: size.beds, days: size.days };
  if (existsSync(folder) && !existsSync(marker) && readdirSync(folder).length > 0) {
    throw new Error(
      `${folder} holds files that are no month of this benchmark; name an empty or a new folder.`,
    );
  }
  const kept = existsSync(marker) ? JSON.parse(readFileSync(marker, 'utf8')) : null;
  const isKept = kept !== null && JSON.stringify(kept.wanted) === JSON.stringify(wanted);
  let counts = kept?.counts;
  if (!isKept) {
    rmSync(exports, { recursive: true, force: true });
    // A run that breaks off leaves a marker that fits nothing, so that the folder is known and done again.
    mkdirSync(exports, { recursive: true });
    writeFileSync(marker, '{}');
    const { alarms, patients, rows } = await write(folder, exports, size);
    counts = { patients: patients.length, rows, alarms: alarms.length };
    writeFileSync(marker, JSON.stringify({ wanted, counts }));
  }
  const pipeline = join(folder, 'unit.yaml');
  writeFileSync(pipeline, monthPipeline(report));
  return { ...size, ...counts, folder, exports, pipeline };
}
