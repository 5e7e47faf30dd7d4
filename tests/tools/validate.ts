/**
 * `npm run validate`: measures cleaning on labelled patients, prints the figures and writes the report.
 * Options: --set evaluation|tuning, --patients N, --out DIR, --threads N;
 * --kind K --worst N --sampling S lists what went wrong with a kind instead (K: a kind of artifact or true event,
 * high, quiet, missed or invented).
 */
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import {
  EVALUATION_SEEDS,
  SAMPLINGS,
  type SamplingSeconds,
  TUNING_SEEDS,
} from '../../fixtures/labelled/evaluation-set.js';
import { lookAtAll, measureAll } from '../validation/pool.js';
import { printed } from '../validation/printed.js';
import { reportFiles } from '../validation/report-files.js';
import { resultsOf } from '../validation/results.js';
import { placeOf } from '../validation/words.js';

const { values } = parseArgs({
  options: {
    set: { type: 'string', default: 'evaluation' },
    patients: { type: 'string' },
    out: { type: 'string' },
    threads: { type: 'string', default: String(Math.min(2, availableParallelism())) },
    kind: { type: 'string' },
    worst: { type: 'string', default: '10' },
    sampling: { type: 'string', default: '1' },
  },
});

const sets: Readonly<Record<string, readonly number[]>> = {
  evaluation: EVALUATION_SEEDS,
  tuning: TUNING_SEEDS,
};
if (!(values.set in sets)) throw new Error(`--set is ${Object.keys(sets).join(' or ')}`);
const seeds = sets[values.set].slice(0, values.patients === undefined ? undefined : Number(values.patients));
const threads = Number(values.threads);

const progress = (done: number): void => {
  if (done % 10 === 0 || done === seeds.length) process.stderr.write(`${done} of ${seeds.length} patients\n`);
};

if (values.kind === undefined) {
  const rows = await measureAll(seeds, threads, progress);
  console.log(printed(resultsOf(rows)));
  const evaluated = values.set === 'evaluation' && values.patients === undefined;
  // Only the whole evaluation set goes where the committed report stands.
  const root = fileURLToPath(new URL('../../', import.meta.url));
  const folder = values.out ?? join(root, evaluated ? 'reports/demo/validation' : 'reports/validation-trial');
  rmSync(join(folder, 'tables'), { recursive: true, force: true });
  for (const [path, text] of reportFiles(rows)) {
    mkdirSync(dirname(join(folder, path)), { recursive: true });
    writeFileSync(join(folder, path), text);
  }
  console.log(`\nThe report is in ${resolve(folder)}`);
} else {
  const sampling = SAMPLINGS.find((one) => String(one) === values.sampling);
  if (sampling === undefined) throw new Error(`--sampling is ${SAMPLINGS.join(', ')}`);
  const sights = await lookAtAll(seeds, values.kind, sampling as SamplingSeconds, threads, progress);
  const total = sights.reduce((sum, { wrongSeconds }) => sum + wrongSeconds, 0);
  console.log(`${values.kind} at ${sampling} s: ${sights.length} went wrong, ${total} s; the longest:`);
  for (const one of sights.slice(0, Number(values.worst))) {
    console.log(`\n${placeOf(one.seed, one.atSecond)} (second ${one.atSecond}): ${one.wrongSeconds} s`);
    console.log(
      `  ${one.says}\n  rules near: ${one.rules || 'none'}; care: ${one.care || 'no entry'}; in steps of ${one.resolution} mmHg\n  ${one.values}`,
    );
  }
}
