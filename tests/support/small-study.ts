import { join } from 'node:path';
import { runPipeline } from '../../src/pipeline/run-pipeline.js';
import { folderWith } from './cistern.js';

const PATIENTS = 24;
const MINUTES = 30 * 60;

/** Thirty hours from 2031-02-11 08:00, a row a minute, of which some minutes of each hour are raised. */
function stay(place: number): string {
  const rows = Array.from({ length: MINUTES }, (_, minute) => {
    const time = new Date(Date.UTC(2031, 1, 11, 8, minute)).toISOString().slice(0, 19).replace('T', ' ');
    const icp = minute % 60 < (place * 3) % 24 ? 27 : 10 + (place % 6) + ((minute * 7) % 5) / 2;
    return `${time},${icp},${minute % 200 < 8 ? 70 : 85 + (minute % 3)}`;
  });
  return `Time,ICP (mmHg),ABP mean (mmHg)\n${rows.join('\n')}\n`;
}

const row = (place: number): string =>
  `heron-${place},${30 + 2 * place},2031-02-11 05:00,${3 + (place % 5)},1,abnormal,${place % 3},${place % 8 === 7 ? 'yes' : 'no'},${2 + ((place * 5) % 7)}`;

/** The report folder of a small study that has all parts of a page of one. */
export async function smallStudy(): Promise<string> {
  const places = Array.from({ length: PATIENTS }, (_, place) => place);
  const header = 'Patient,Age (years),Injury,GCS total,GCS motor,CT,Pupils reacting,Treatment withdrawn,GOSE';
  const folder = folderWith({
    ...Object.fromEntries(places.map((place) => [`exports/heron-${place}.csv`, stay(place)])),
    'cohort.csv': `${header}\n${places.map(row).join('\n')}\n`,
    'unit.yaml':
      'exports: exports\ncohort: cohort.csv\nreport: study\nstudy: {resamples: 100, optimalCpp: false, features: {icpMeanMmHg: 5, icpDoseAbove22MmHgHours: 10, cppDoseBelow60MmHgHours: 1}}\n',
  });
  const out = join(folder, 'report');
  await runPipeline(join(folder, 'unit.yaml'), { out, threads: 1 });
  return out;
}
