/** study-worker.ts EXPORTS PATIENTS DAYS PART PARTS: writes the exports of some patients of the cohort, and tells of them. */
import { closeSync, openSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { exportPieces } from '../../fixtures/generator/study/csv.js';
import { planOf } from '../../fixtures/generator/study/plan.js';
import { studyPatient } from '../../fixtures/generator/study/study-unit.js';
import type { TruthPatient } from '../../fixtures/generator/study/truth.js';
import { largeStyle, type StudyPart } from './study-data.js';

const [, , exports, ...numbers] = process.argv;
const [count, days, part, parts] = numbers.map(Number);

const style = largeStyle({ patients: count, days });
const patients: TruthPatient[] = [];
let rows = 0;
for (let place = part; place < count; place += parts) {
  const plan = planOf(style, place);
  const { shown, truth } = studyPatient(plan, style);
  const file = openSync(join(exports, `patient-${plan.id}.csv`), 'w');
  try {
    for (const piece of exportPieces(shown, plan, style.icpResolutionAt(place))) writeSync(file, piece);
  } finally {
    closeSync(file);
  }
  patients.push(truth);
  rows += shown.icp.length;
}
const told: StudyPart = { patients, rows };
process.send!(told, () => process.disconnect());
