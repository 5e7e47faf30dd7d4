import { fork } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { cohortTable } from '../../fixtures/generator/study/cohort-table.js';
import { studyPlans } from '../../fixtures/generator/study/plan.js';
import { LARGE_STYLE } from '../../fixtures/generator/study/styles.js';
import { studyTruth, type TruthPatient } from '../../fixtures/generator/study/truth.js';
import type { StudyStyle } from '../../fixtures/generator/study/types.js';

/** How large a cohort is. */
export interface StudySize {
  readonly patients: number;
  readonly days: number;
}

export const WHOLE_STUDY: StudySize = { patients: 300, days: 5 };

/** Raised whenever other data would be made, so that a kept folder is not taken for today's. */
const GENERATOR = 1;
const MARKER = 'study.json';
const WORKERS = 2;
const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Of a row, with room to spare: time, ICP in tenths, MAP. */
const BYTES_PER_ROW = 32;
const SECONDS_PER_DAY = 86_400;

/** A cohort on disk: `exports` holds one CSV a patient, `study.yaml` the job, the table and the truth lie beside it. */
export interface StudyOnDisk extends StudySize {
  readonly folder: string;
  readonly exports: string;
  readonly pipeline: string;
  /** Rows of all exports, without headers. */
  readonly rows: number;
}

/** What a worker tells of the patients whose exports it has written. */
export interface StudyPart {
  readonly patients: readonly TruthPatient[];
  readonly rows: number;
}

export const largeStyle = ({ patients, days }: StudySize): StudyStyle => ({
  ...LARGE_STYLE,
  patients,
  stayHours: [24 * days, 24 * days],
});

/** The pipeline file of the cohort. */
export const studyPipeline = (hasOptimal: boolean): string => `# Invented data.
name: outcome-study-large
title: Saltmarsh Point neuro intensive care (invented), a large outcome study
exports: exports
cohort: cohort.csv
timezone: Europe/Oslo
patient:
  fileName: ^patient-(\\d+)
study:
  outcome: { months: 6 }
  optimalCpp: ${hasOptimal}
report: study
`;

/** Every second patient is written by a process of its own. */
function partOf(exports: string, { patients, days }: StudySize, part: number): Promise<StudyPart> {
  const worker = fileURLToPath(new URL('study-worker.ts', import.meta.url));
  const args = [exports, patients, days, part, WORKERS].map(String);
  return new Promise((resolve, reject) => {
    // Said outright: tests run this in a process that knows no TypeScript of its own.
    const child = fork(worker, args, { serialization: 'advanced', execArgv: ['--import', 'tsx'], cwd: ROOT });
    let told: StudyPart | null = null;
    child.on('message', (message) => {
      told = message as StudyPart;
    });
    child.on('error', reject);
    child.on('close', (status) => {
      if (status === 0 && told) resolve(told);
      else reject(new Error(`the cohort was not written: a worker ended with status ${status}`));
    });
  });
}

/** @throws Error where the disk has no room for the exports */
function refuseFullDisk(folder: string, { patients, days }: StudySize): void {
  const { bavail, bsize } = statfsSync(folder);
  const needed = patients * days * SECONDS_PER_DAY * BYTES_PER_ROW;
  if (bavail * bsize >= needed) return;
  const gigabytes = (bytes: number): string => (bytes / 1e9).toFixed(1);
  throw new Error(
    `${folder} has ${gigabytes(bavail * bsize)} GB free, and the cohort takes up to ${gigabytes(needed)} GB: name another folder with --data, or fewer --patients.`,
  );
}

async function write(folder: string, exports: string, size: StudySize): Promise<number> {
  const parts = await Promise.all(Array.from({ length: WORKERS }, (_, part) => partOf(exports, size, part)));
  const style = largeStyle(size);
  const patients = parts.flatMap((part) => part.patients).sort((a, b) => Number(a.id) - Number(b.id));
  writeFileSync(join(folder, 'cohort.csv'), cohortTable(studyPlans(style), style));
  writeFileSync(join(folder, 'truth.json'), `${JSON.stringify(studyTruth(style, patients), null, 1)}\n`);
  return parts.reduce((sum, part) => sum + part.rows, 0);
}

/**
 * Writes a cohort into the folder; one of the same size that stands there is used again.
 *
 * @throws Error where the folder holds anything else, or the disk is too small
 */
export async function studyIn(folder: string, size: StudySize, hasOptimal: boolean): Promise<StudyOnDisk> {
  const exports = join(folder, 'exports');
  const marker = join(folder, MARKER);
  const wanted = { generator: GENERATOR, ...size };
  if (existsSync(folder) && !existsSync(marker) && readdirSync(folder).length > 0) {
    throw new Error(
      `${folder} holds files that are no cohort of this benchmark; name an empty or a new folder.`,
    );
  }
  const kept = existsSync(marker) ? JSON.parse(readFileSync(marker, 'utf8')) : null;
  let rows: number;
  if (kept !== null && JSON.stringify(kept.wanted) === JSON.stringify(wanted)) rows = kept.rows;
  else {
    rmSync(exports, { recursive: true, force: true });
    // A run that breaks off leaves a marker that fits nothing, so that the folder is known and done again.
    mkdirSync(exports, { recursive: true });
    writeFileSync(marker, '{}');
    refuseFullDisk(folder, size);
    rows = await write(folder, exports, size);
    writeFileSync(marker, JSON.stringify({ wanted, rows }));
  }
  const pipeline = join(folder, 'study.yaml');
  writeFileSync(pipeline, studyPipeline(hasOptimal));
  return { ...size, folder, exports, pipeline, rows };
}
