/**
 * `npm run bench`: the whole job against what users would otherwise write. It checks on a smaller cohort that all
 * programs give equal figures, then times them in turn, each run a fresh process.
 * Options: --patients N (20), --days N (5), --runs N (5), --cores LIST (0,1), --dist DIR (repeatable; the first is
 * ours), --data DIR (the cohort is made there once, and kept), --keep, --floors-only, --equal-only.
 */
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { asScript } from './as-script.js';
import { type Cohort, cohortIn } from './cohort.js';
import { compare } from './compare.js';
import { equalFigures, equalLine, figuresIn } from './equal-figures.js';
import { floors, ours, referencePrograms } from './programs.js';
import { machineLine, outFolder, timeInTurn, timingTable } from './timing.js';

const { values } = parseArgs({
  options: {
    patients: { type: 'string', default: '20' },
    days: { type: 'string', default: '5' },
    runs: { type: 'string', default: '5' },
    cores: { type: 'string', default: '0,1' },
    dist: { type: 'string', multiple: true },
    data: { type: 'string' },
    keep: { type: 'boolean', default: false },
    'equal-only': { type: 'boolean', default: false },
    'floors-only': { type: 'boolean', default: false },
  },
});

const DIST = fileURLToPath(new URL('../../dist', import.meta.url));
/** Of the check for equal figures: long enough for nights, hours that are cut, and every rule. */
const SMALL = { patients: 4, hours: 30 };

const number = (key: 'patients' | 'days' | 'runs'): number => {
  const value = Number(values[key]);
  if (value > 0 && (key === 'days' || Number.isInteger(value))) return value;
  throw new Error(`--${key} ${values[key]}: a ${key === 'days' ? '' : 'whole '}number over 0 is expected.`);
};

/** How many cores a list such as 0,1 or 0-3 names. */
function coreCount(list: string): number {
  const count = list.split(',').reduce((sum, part) => {
    const [from, to = from] = part.split('-').map(Number);
    return sum + to - from + 1;
  }, 0);
  if (count >= 1) return count;
  throw new Error(`--cores ${list}: a list such as 0,1 or 0-3 is expected.`);
}

function sizeLine({ bytes, patients }: Cohort): string {
  return `${patients} invented patients x ${number('days')} days at 1 Hz, ${(bytes / 1e6).toFixed(0)} MB`;
}

async function bench(scratch: string): Promise<number> {
  const { cores } = values;
  const count = coreCount(cores);
  const dists = (values.dist ?? [DIST]).map((dist) => resolve(dist));
  const own = dists.map((dist, k) => ours(dist, k === 0 ? 'ours' : `ours, ${dist}`));
  const programs = [...own, ...referencePrograms(count)];
  const small = cohortIn(join(scratch, 'small'), SMALL);
  console.log(`${SMALL.patients} invented patients x ${SMALL.hours} h: are all figures equal to ours?`);
  let isEqual = true;
  for (const { program, comparison } of await equalFigures(small, programs, cores)) {
    console.log(equalLine(program.name, comparison));
    isEqual &&= comparison.unequal.length === 0;
  }
  if (!isEqual) return 1;
  if (values['equal-only']) return 0;

  const folder = values.data ? resolve(values.data) : join(scratch, 'cohort');
  const cohort = cohortIn(folder, { patients: number('patients'), hours: 24 * number('days') });
  if (values.keep || values.data) process.stderr.write(`The data stay in ${folder}\n`);
  const rows = number('patients') * 86_400 * number('days');
  const outOf = outFolder(scratch);
  console.log(`\n${machineLine(cores)}\n${sizeLine(cohort)}\n`);
  if (!values['floors-only']) {
    const timings = await timeInTurn(cohort, programs, number('runs'), cores, outOf);
    console.log(
      `The whole job, medians of ${number('runs')} runs in turn:\n\n${timingTable(timings, rows)}\n`,
    );
    const [first, ...others] = programs;
    const mine = figuresIn(outOf(first), first);
    for (const program of others) {
      const comparison = compare(mine, figuresIn(outOf(program), program));
      console.log(equalLine(program.name, comparison));
      isEqual &&= comparison.unequal.length === 0;
    }
  }
  const parts = await timeInTurn(
    cohort,
    [programs[0], ...floors(dists[0], count)],
    number('runs'),
    cores,
    outOf,
  );
  console.log(`\nParts of the job alone:\n\n${timingTable(parts, rows)}\n\n${machineLine(cores)}`);
  return isEqual ? 0 : 1;
}

await asScript('bench', bench, { isKept: values.keep });
