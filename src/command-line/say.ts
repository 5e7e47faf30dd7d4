import { join, relative } from 'node:path';
import type { RunOutcome } from '../pipeline/run-pipeline.js';
import type { ShardOutcome } from '../pipeline/run-shard.js';
import { counted } from '../report/words.js';
import { lines } from './told.js';

/** What `run` prints when it has written. */
export function writtenText({ folder, unit: results, patients }: RunOutcome, hasPages: boolean): string {
  const { recordings, audit, study, logs, noData, failed, counts, unit } = results;
  const reported = audit || study ? unit.order.length : recordings.length;
  const file = join(folder, hasPages ? 'index.html' : 'results.json');
  const near = relative('.', file);
  const shown = near.startsWith('..') ? file : near;
  return lines([
    `${counted(reported, 'patient')} reported, ${noData.length} without data, ${failed.length} failed.`,
    ...(patients.reused === 0 ? [] : [reusedText(patients)]),
    `Rows read ${counts.rowsRead}, used ${counts.rowsUsed}, set aside ${counts.rowsSetAside}.`,
    ...(study ? tableText(logs) : []),
    unit.sentence,
    hasPages ? `Open ${shown}` : `Figures are in ${shown}, and as tables beside it`,
    '',
  ]);
}

/** Rows of the table that are missing from a study: each may be a patient. */
function tableText(logs: RunOutcome['unit']['logs']): string[] {
  const tables = logs.filter(({ kind }) => kind === 'cohort');
  const sum = (key: 'rowsRead' | 'rowsSetAside'): number => tables.reduce((all, one) => all + one[key], 0);
  return sum('rowsSetAside') === 0
    ? []
    : [
        `Of ${counted(sum('rowsRead'), 'row')} of the cohort table ${sum('rowsSetAside')} could not be used: tables/setaside.csv says why.`,
      ];
}

/** What a shard prints once it has stored its share. */
export function shardText({
  shard,
  store,
  groups,
  ofGroups,
  rowsRead,
  failed,
  notKept,
  merge,
}: ShardOutcome): string {
  const stored = groups - notKept.length;
  const near = relative('.', store);
  return lines([
    `Shard ${shard.number} of ${shard.of}: ${stored} of ${counted(ofGroups, 'patient')} stored in ${near.startsWith('..') ? store : near}, ${failed.length} failed.`,
    `Rows read ${rowsRead}.`,
    `Once all shards are there: ${merge}`,
    '',
  ]);
}

const reusedText = ({ done, reused }: RunOutcome['patients']): string =>
  `${counted(done + reused, 'patient')}: ${done} read anew, ${reused} as ${reused === 1 ? 'it was' : 'they were'} stored.`;

/** What `run` says where it was interrupted; how many patients are kept of how many. */
export const interruptedText = ({ kept, of }: { kept: number; of: number }): string =>
  of === 0
    ? 'interrupted; nothing was written.'
    : `interrupted; nothing was written. ${kept} of ${counted(of, 'patient')} ${kept === 1 ? 'is' : 'are'} kept; run the same command again to go on.`;
