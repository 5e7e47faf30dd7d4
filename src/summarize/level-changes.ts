import { rollingMedian } from '../recording/rolling-median.js';
import type { WindowMean } from './window-means.js';

/** So much of the time on either side has to lie nearer to its own level than to the other one. */
const MOSTLY = 0.8;

/** A lasting change of the level of a series of means. */
export interface LevelChange {
  /** Indices of the last mean before and of the first behind it. */
  readonly last: number;
  readonly first: number;
  /** Medians over the time on either side. */
  readonly before: number;
  readonly after: number;
}

/**
 * Places at which a series goes to another level and stays there: the medians of so many means before and behind differ
 * by more than `least`, and four fifths of each lie on their own side of the middle. Means that are missing between them
 * do not count, so that a change across a gap is found too. Common practice, no source.
 */
export function levelChanges(means: readonly WindowMean[], count: number, least: number): LevelChange[] {
  const values = Float64Array.from(means, ({ mean }) => mean);
  const from = (shift: number): Uint32Array =>
    Uint32Array.from(values, (_, i) => Math.min(Math.max(0, i + shift), values.length));
  const before = rollingMedian(values, from(-count), from(0));
  const after = rollingMedian(values, from(0), from(count));
  const isChange = (i: number): boolean => {
    if (i < count || i + count > values.length || Math.abs(after[i] - before[i]) <= least) return false;
    const middle = (before[i] + after[i]) / 2;
    const isOver = after[i] > middle;
    const onSide = (start: number, over: boolean): number =>
      values.subarray(start, start + count).filter((x) => x > middle === over).length;
    return onSide(i - count, !isOver) >= MOSTLY * count && onSide(i, isOver) >= MOSTLY * count;
  };
  const sums = new Float64Array(values.length + 1);
  values.forEach((x, i) => {
    sums[i + 1] = sums[i] + x;
  });
  /** The sharpest place is where the means of the two sides differ most. */
  const contrast = (i: number): number => Math.abs(sums[i + count] - 2 * sums[i] + sums[i - count]);
  const changes: LevelChange[] = [];
  for (let i = 0; i < values.length; i++) {
    if (!isChange(i)) continue;
    const side = Math.sign(after[i] - before[i]);
    let sharpest = i;
    for (; isChange(i + 1) && Math.sign(after[i + 1] - before[i + 1]) === side; i++) {
      if (contrast(i + 1) > contrast(sharpest)) sharpest = i + 1;
    }
    changes.push({
      last: sharpest - 1,
      first: sharpest,
      before: before[sharpest],
      after: after[sharpest],
    });
  }
  return changes;
}
