/** Everything that the validation page shows, from the tables alone. */
import { HOURS, SAMPLINGS } from '../../fixtures/labelled/evaluation-set.js';
import { type SamplingSummary, summarizeSampling } from './aggregate/summary.js';
import { type Verdict, verdicts } from './aggregate/targets.js';
import type { Rows } from './measure/rows.js';

export interface ValidationResults {
  readonly schemaVersion: 1;
  readonly patients: number;
  readonly hoursEach: number;
  readonly firstSeed: number;
  readonly lastSeed: number;
  readonly verdicts: readonly Verdict[];
  /** By sampling, then all together. */
  readonly samplings: readonly SamplingSummary[];
}

export function resultsOf(rows: Rows): ValidationResults {
  const seeds = [...new Set(rows.recordings.map(({ seed }) => seed))].sort((a, b) => a - b);
  const samplings = [...SAMPLINGS, null].map((sampling) => summarizeSampling(rows, sampling));
  return {
    schemaVersion: 1,
    patients: seeds.length,
    hoursEach: HOURS,
    firstSeed: seeds[0],
    lastSeed: seeds[seeds.length - 1],
    verdicts: verdicts(samplings),
    samplings,
  };
}

/** The same as text of results.json. */
export const resultsJson = (results: ValidationResults): string => `${JSON.stringify(results, null, 2)}\n`;
