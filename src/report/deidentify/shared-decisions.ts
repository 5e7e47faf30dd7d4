import type { TargetRow } from '../../ingest/tables/cpp-targets.js';
import type { DecisionRow } from '../../ingest/tables/overrides.js';
import { toCsv } from '../tables/csv.js';
import { type Coded, timeOrBlank } from './shared-logs.js';

/**
 * What persons decided on marked stretches, as it is shared: a report on the set then has the same figures. Reviewers
 * are numbered in the order of the codes, which tells nothing of them.
 */
export function sharedDecisions(
  rows: readonly { readonly whose: Coded; readonly entry: Omit<DecisionRow, 'file' | 'line' | 'patient'> }[],
): string {
  const reviewers = [...new Set(rows.map(({ entry }) => entry.reviewer))];
  return toCsv(
    ['Patient', 'Channel', 'Start', 'End', 'Decision', 'Direction', 'Reviewer'],
    rows.map(({ whose, entry: { channel, start, end, decision, direction, reviewer } }) => [
      whose.code,
      channel,
      timeOrBlank(whose, start),
      timeOrBlank(whose, end),
      decision,
      direction,
      `reviewer ${reviewers.indexOf(reviewer) + 1}`,
    ]),
  );
}

/** CPP targets by patient and time, as they are shared. */
export const sharedTargets = (
  rows: readonly {
    readonly whose: Coded;
    readonly entry: Pick<TargetRow, 'from' | 'until' | 'cppBelowMmHg'>;
  }[],
): string =>
  toCsv(
    ['Patient', 'From', 'Until', 'CPP target (mmHg)'],
    rows.map(({ whose, entry: { from, until, cppBelowMmHg } }) => [
      whose.code,
      timeOrBlank(whose, from),
      timeOrBlank(whose, until),
      cppBelowMmHg,
    ]),
  );
