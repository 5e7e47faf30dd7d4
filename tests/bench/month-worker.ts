/** month-worker.ts EXPORTS BEDS DAYS PART PARTS: writes the exports of some patients of the month, and tells of their logs. */
import { closeSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { AlarmLine } from '../../fixtures/generator/audit/alarm-log.js';
import type { CareLine } from '../../fixtures/generator/audit/care-log.js';
import { exportPieces } from '../../fixtures/generator/audit/csv.js';
import { auditPatient } from '../../fixtures/generator/audit/patient.js';
import type { TruthPatient } from '../../fixtures/generator/audit/truth.js';
import type { Pressures } from '../../fixtures/generator/audit/types.js';
import { MONTH_STYLE, monthPlans } from '../../fixtures/generator/audit/units.js';
import type { WorkersPart } from './month-data.js';

const [, , exports, ...numbers] = process.argv;
const [beds, days, part, parts] = numbers.map(Number);

/** How many rows an export has; those in which nothing is known are not written. */
function rowsOf({ icp, map }: Pressures): number {
  let rows = 0;
  for (let i = 0; i < icp.length; i++) if (!Number.isNaN(icp[i]) || !Number.isNaN(map[i])) rows++;
  return rows;
}

const alarms: AlarmLine[] = [];
const care: CareLine[] = [];
const patients: TruthPatient[] = [];
let rows = 0;
for (const [index, plan] of monthPlans({ beds, days }).entries()) {
  if (index % parts !== part) continue;
  const patient = auditPatient(plan, MONTH_STYLE);
  const file = openSync(join(exports, `patient-${plan.id}.csv`), 'w');
  try {
    const pieces = exportPieces(patient.shown, plan.start, MONTH_STYLE.intervalSeconds);
    for (const piece of pieces) writeSync(file, piece);
  } finally {
    closeSync(file);
  }
  alarms.push(...patient.alarms);
  care.push(...patient.care);
  patients.push(patient.truth);
  rows += rowsOf(patient.shown);
}
const told: WorkersPart = { alarms, care, patients, rows };
process.send!(told, () => process.disconnect());
