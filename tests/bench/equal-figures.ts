import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Results } from '../../src/report/results-schema.js';
import type { Cohort } from './cohort.js';
import { type Comparison, compare } from './compare.js';
import { ourFigures, type PatientFigures, type ReferenceResults, referenceFigures } from './figures.js';
import { measuredRun } from './measured-run.js';
import type { Program } from './programs.js';

const json = <T>(folder: string, name: string): T =>
  JSON.parse(readFileSync(join(folder, name), 'utf8')) as T;

/** The figures to compare that a program left in a folder. */
export function figuresIn(folder: string, { isOurs }: Program): PatientFigures[] {
  if (!isOurs) return referenceFigures(json<ReferenceResults>(folder, 'results.json'));
  const { inputs } = json<{ inputs: { file: string; sha256: string }[] }>(folder, 'run.json');
  const sha256 = new Map(inputs.map((input) => [input.file, input.sha256]));
  return ourFigures(json<Results>(folder, 'results.json'), sha256);
}

/** Runs the first program and each other one on a cohort, and compares what they say. */
export async function equalFigures(
  cohort: Cohort,
  [first, ...others]: readonly Program[],
  cores: string | null,
): Promise<{ program: Program; comparison: Comparison }[]> {
  const folder = mkdtempSync(join(tmpdir(), 'cistern-equal-'));
  try {
    const figures = async (program: Program, name: string): Promise<PatientFigures[]> => {
      const out = join(folder, name);
      await measuredRun(program.command(cohort, out), cores);
      return figuresIn(out, program);
    };
    const ours = await figures(first, 'first');
    const compared: { program: Program; comparison: Comparison }[] = [];
    for (const [k, program] of others.entries()) {
      compared.push({ program, comparison: compare(ours, await figures(program, String(k))) });
    }
    return compared;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** A line on how a program compares with ours. */
export function equalLine(
  name: string,
  { numbers, words, largestRelative, largestAt, unequal }: Comparison,
): string {
  const compared = `${numbers} numbers and ${words} texts and nulls compared`;
  const largest =
    largestRelative === 0
      ? 'no difference'
      : `largest relative difference ${largestRelative.toExponential(1)} at ${largestAt}`;
  if (unequal.length === 0) return `${name}: equal; ${compared}, ${largest}`;
  return [`${name}: ${unequal.length} figures are NOT equal; ${compared}`, ...unequal.slice(0, 10)].join(
    '\n  ',
  );
}
