import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { inventedPatient } from './patient.js';
import { patientCsv } from './patient-csv.js';

/** How large an invented cohort is. */
export interface CohortSize {
  readonly patients: number;
  readonly hours: number;
}

/** An invented cohort on disk: `exports` holds one CSV a patient, `unit.yaml` the job. */
export interface Cohort extends CohortSize {
  readonly folder: string;
  readonly exports: string;
  readonly pipeline: string;
  readonly bytes: number;
}

/** Raised whenever other data would be made, so that a kept folder is not taken for today's. */
const GENERATOR = 1;

/** The job of the benchmark: the rules that can be written equally everywhere are on, the others off. */
export const PIPELINE = `# Invented data of the benchmark.
exports: exports
period: all
clean:
  zeroing: off
  briefSpike: off
  coughTrain: off
  slowTurn: off
  handling: off
  flush: off
  draw: off
  openDrain: off
  step: off
  zeroShift: off
  damped: off
  clipped: off
  drift: off
  transducerMoved: off
report: morning
`;

export const patientName = (number: number): string => `p${String(number).padStart(4, '0')}`;

/** Writes an invented cohort into the folder; one of the same size that stands there is used again. */
export function cohortIn(folder: string, { patients, hours }: CohortSize): Cohort {
  const exports = join(folder, 'exports');
  const pipeline = join(folder, 'unit.yaml');
  const marker = join(folder, 'cohort.json');
  const wanted = JSON.stringify({ generator: GENERATOR, patients, hours });
  if (existsSync(folder) && !existsSync(marker) && readdirSync(folder).length > 0) {
    throw new Error(
      `${folder} holds files that are no cohort of the benchmark; name an empty or a new folder.`,
    );
  }
  if (!existsSync(marker) || readFileSync(marker, 'utf8') !== wanted) {
    rmSync(exports, { recursive: true, force: true });
    rmSync(marker, { force: true });
    mkdirSync(exports, { recursive: true });
    for (let number = 1; number <= patients; number++) {
      const patient = inventedPatient(number, Math.round(hours * 3600));
      writeFileSync(join(exports, `${patientName(number)}.csv`), patientCsv(patient));
    }
    writeFileSync(marker, wanted);
  }
  writeFileSync(pipeline, PIPELINE);
  const bytes = readdirSync(exports).reduce((sum, name) => sum + statSync(join(exports, name)).size, 0);
  return { folder, exports, pipeline, bytes, patients, hours };
}
