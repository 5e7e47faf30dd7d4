import type { CohortRow } from './cohort.js';

/**
 * When patients died, milliseconds UTC: the earlier of brain death and death. Of a date without a time of day it is the end
 * of the day, so that nothing of that day is cut off too soon. Those of whom nobody says when are left out.
 */
export function deathsOf(
  rows: readonly Pick<CohortRow, 'id' | 'death' | 'brainDeath'>[],
): Map<string, number> {
  return new Map(
    rows.flatMap(({ id, death, brainDeath }): [string, number][] => {
      const times = [death, brainDeath].flatMap((one) => (one?.at ? [one.at.endUtcMs] : []));
      return times.length === 0 ? [] : [[id, Math.min(...times)]];
    }),
  );
}
