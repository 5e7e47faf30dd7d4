import type { UnitResults } from '../report/results-schema.js';
import { VERSION } from '../version.js';
import type { LogAccount } from './log-file.js';
import type { Paper } from './print/paper.js';
import type { KeptPart } from './report-group.js';
import type { PatientCounts } from './tally.js';

/** What happened, for run.json: the only file beside PDFs that differs between runs on the same inputs. */
export function runRecord(
  startedAt: Date,
  parts: readonly KeptPart[],
  logs: readonly LogAccount[],
  results: UnitResults,
  patients: PatientCounts,
  threads: number | null,
  paper: Paper | null,
): object {
  return {
    program: { name: 'cistern', version: VERSION, node: process.version },
    startedAt: startedAt.toISOString(),
    durationSeconds: (Date.now() - startedAt.getTime()) / 1000,
    threads,
    inputs: [...parts.flatMap(({ files }) => files), ...logs].map(({ file, bytes, sha256 }) => ({
      file,
      bytes,
      sha256,
    })),
    pdf: paper && { paper },
    counts: results.counts,
    patients,
  };
}
