import type { LabelledPatient } from '../../../fixtures/labelled/types.js';
import type { Mark } from '../../../src/clean/rule.js';
import { THRESHOLD_MMHG } from '../settings.js';
import { type Grid, samplesIn } from './coverage.js';
import type { ExcessRow, Where } from './rows.js';

const over = (value: number): number => Math.max(0, value - THRESHOLD_MMHG);

/**
 * What artifacts that stay in the headline add to the dose above the threshold, by kind: shown minus true, a sample
 * standing for its interval. Negative where they hide some of it. The start of a drift, which has no label, counts for it.
 */
export function excessRows(
  where: Where,
  { artifacts, labels, shown, trueIcp }: LabelledPatient,
  marks: readonly Mark[],
  grid: Grid,
): ExcessRow[] {
  const leftOut = new Uint8Array(grid.count);
  const hatched = new Uint8Array(grid.count);
  for (const mark of marks) {
    const isOut = mark.grade === 'removed' || mark.direction === 'down';
    const { first, last } = samplesIn(grid, mark);
    (isOut ? leftOut : hatched).fill(1, first, last + 1);
  }
  const sums = new Map<string, { kind: string; isHatched: number; samples: number; excess: number }>();
  for (let i = 0; i < grid.count; i++) {
    const second = i * grid.everySeconds;
    const excess = over(shown.icp[second]) - over(trueIcp[second]);
    const label = labels.icp[second];
    if (leftOut[i] || Number.isNaN(shown.icp[second])) continue;
    if (label === 0 && shown.icp[second] === trueIcp[second]) continue;
    const kind = label === 0 ? 'drift' : artifacts[label - 1].kind;
    const key = `${kind} ${hatched[i]}`;
    const sum = sums.get(key) ?? { kind, isHatched: hatched[i], samples: 0, excess: 0 };
    sum.samples++;
    sum.excess += excess;
    sums.set(key, sum);
  }
  return [...sums.values()].map(({ kind, isHatched, samples, excess }) => ({
    ...where,
    kind,
    isHatched,
    secondsKept: samples * grid.everySeconds,
    excessMmHgHours: Math.round((excess * grid.everySeconds * 1e6) / 3600) / 1e6,
  }));
}
