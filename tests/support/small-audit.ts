import { join } from 'node:path';
import { runPipeline } from '../../src/pipeline/run-pipeline.js';
import { auditedUnit } from '../golden/make/alarm-audit.js';
import { folderWith } from './cistern.js';

/** Over so many patients intervals are given, and over so many weeks signals. */
const PATIENTS = 12;

/**
 * The report folder of a small audit that has all that a page of one can hold: intervals, charts over time with a change
 * between, maps with the present setting.
 *
 * @param whatIf limits and delays that are tried, as YAML in one line; the usual ones where left out
 */
export async function smallAudit(whatIf?: string): Promise<string> {
  const tried = whatIf === undefined ? '' : `, whatIf: ${whatIf}`;
  const folder = folderWith(
    auditedUnit(
      PATIENTS,
      `{changed: {date: "2031-06-16", what: new alarm protocol}, present: {limitMmHg: 22, delaySeconds: 60}${tried}}`,
    ),
  );
  const out = join(folder, 'report');
  await runPipeline(join(folder, 'unit.yaml'), { out, threads: 1 });
  return out;
}
