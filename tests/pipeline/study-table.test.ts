import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Results } from '../../src/report/results-schema.js';
import { folderWith } from '../support/cistern.js';
import { commandLine } from '../support/command-line.js';

const two = (n: number): string => String(n).padStart(2, '0');

/** Three hours, a row a minute. */
const stay = (level: number): string =>
  `Time,ICP (mmHg)\n${Array.from({ length: 180 }, (_, minute) => `2031-02-11 ${two(8 + Math.floor(minute / 60))}:${two(minute % 60)}:00,${level + (minute % 3)}\n`).join('')}`;

const PATIENTS = ['teal-1', 'teal-2', 'teal-3'];

/** A study of three stays with a table of the patients; figures alone, as fast as it goes. */
async function study(table: string, cohort = 'cohort.csv') {
  const folder = folderWith({
    ...Object.fromEntries(PATIENTS.map((id, i) => [`exports/${id}.csv`, stay(10 + i)])),
    'cohort.csv': table,
    'unit.yaml': `exports: exports\ntimezone: Europe/Oslo\nreport: study\ncohort: ${cohort}\nstudy: {leastHours: 1, optimalCpp: false, resamples: 100}\n`,
  });
  const args = ['run', 'unit.yaml', '--out', 'report', '--threads', '1', '--no-pages'];
  const { status, stderr } = await commandLine(args, folder);
  const flow = (): { inTable: number; out: number; withOutcome: number } => {
    const results = JSON.parse(readFileSync(join(folder, 'report/results.json'), 'utf8')) as Results;
    const { inTable, steps, withOutcome } = results.study!.flow;
    const out = steps.filter(({ step }) => step !== 'withdrawn').reduce((sum, one) => sum + one.excluded, 0);
    return { inTable, out, withOutcome };
  };
  return { status, stderr, flow };
}

const rows = (header: string, cells: (i: number) => string): string =>
  `Patient,${header}\n${PATIENTS.map((id, i) => `${id},${cells(i)}\n`).join('')}`;

describe('a table of patients whose headers do not say enough', () => {
  it('asks for the scale of the outcome, and takes it as it says', async () => {
    const table = rows('Outcome', (i) => String(i + 3));
    const asked = await study(table);
    expect([asked.status, asked.stderr]).toEqual([
      2,
      'cistern: cohort.csv, line 1, column "Outcome": nothing says which scale the outcome is on. Say it in the pipeline file, as cohort: {files: ..., columns: {outcome: {scale: gos}}}, gose or mortality.\n',
    ]);
    const told = await study(table, '{files: cohort.csv, columns: {outcome: {scale: gose}}}');
    expect([told.status, told.flow()]).toEqual([0, { inTable: 3, out: 0, withOutcome: 3 }]);
    const wrong = await study(table, '{files: cohort.csv, columns: {outcome: {scale: gosse}}}');
    expect([wrong.status, wrong.stderr]).toEqual([
      2,
      'cistern: unit.yaml, line 4: cohort.columns.outcome.scale: "gosse" is no valid value. Did you mean "gose"? Valid here: gos, gose, mortality.\n',
    ]);
  });

  it('asks for the unit of the systolic pressure, and takes it as it says', async () => {
    const table = rows('SBP,GOSE', (i) => `${12 + i},${i + 3}`);
    const asked = await study(table);
    expect([asked.status, asked.stderr]).toEqual([
      2,
      'cistern: cohort.csv, line 1, column "SBP": its unit is not given. Write it into the header, as in "systolic ABP (mmHg)", or into the pipeline file, as cohort: {files: ..., columns: {sbp: {unit: mmHg}}}.\n',
    ]);
    const told = await study(table, '{files: cohort.csv, columns: {sbp: {unit: kPa}}}');
    expect([told.status, told.flow()]).toEqual([0, { inTable: 3, out: 0, withOutcome: 3 }]);
    // Nor is the header that it proposes asked again.
    const named = await study(table.replace('SBP', 'systolic ABP (mmHg)'));
    expect([named.status, named.stderr]).toEqual([0, '']);
  });

  it('asks which of two outcomes is meant, and takes it as it says', async () => {
    const table = rows('GOS,GOSE', (i) => `${i + 2},${i + 4}`);
    const asked = await study(table);
    expect([asked.status, asked.stderr]).toEqual([
      2,
      'cistern: cohort.csv, line 1: "GOS", "GOSE" could each be the outcome. Name the right one in the pipeline file, as cohort: {files: ..., columns: {outcome: "GOS"}}.\n',
    ]);
    const told = await study(table, '{files: cohort.csv, columns: {outcome: "GOSE"}}');
    expect([told.status, told.flow()]).toEqual([0, { inTable: 3, out: 0, withOutcome: 3 }]);
  });
});

describe('a table of patients that holds nothing of use', () => {
  it.each([
    ['nothing', '', 'cistern: cohort.csv: the file is empty. Export it again.\n'],
    [
      'a header alone',
      'Patient,GOSE\n',
      'cistern: no row of the cohort table cohort.csv could be used, so that the study would have no patient. cistern inspect says of the table what is wrong with it.\n',
    ],
    [
      'a quote that is never closed',
      'Patient,GOSE\nteal-1,4\n"teal-2,5\nteal-3,6\n',
      'cistern: cohort.csv, line 3: a quote is opened and never closed. Correct the quotes in this row, or export the file again.\n',
    ],
  ])('is refused where it holds %s', async (_, table, sentence) => {
    const { status, stderr } = await study(table);
    expect([status, stderr]).toEqual([2, sentence]);
  });
});

describe('cistern inspect on a table of patients', () => {
  it('says what to write into the pipeline file, and takes it as it says', async () => {
    const folder = folderWith({ 'cohort.csv': rows('SBP,GOSE', (i) => `${12 + i},${i + 3}`) });
    const inspect = (...more: string[]) =>
      commandLine(['inspect', 'cohort.csv', '--set', 'timezone=Europe/Oslo', ...more], folder);
    const asked = await inspect();
    expect(asked.status).toBe(1);
    expect(asked.stdout).toContain(
      'Line 1, column "SBP": its unit is not given. Write it into the header, as in "systolic ABP (mmHg)", or into the pipeline file, as cohort: {files: ..., columns: {sbp: {unit: mmHg}}}.\n',
    );
    const told = await inspect('--set', 'cohort={files: cohort.csv, columns: {sbp: {unit: kPa}}}');
    expect(told.status).toBe(0);
    expect(told.stdout).toMatch(/SBP +systolic pressure +kPa/);
  });
});
