import type { Mark } from '../clean/rule.js';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';

/** Removed excursions of this size are listed one by one, so that a reader can disagree. */
const LARGE_MMHG = 40;
const BASELINE_MS = 120_000;

/** A removed stretch of ICP that went far over what stood before it. */
export interface LargeExcursion {
  readonly start: number;
  readonly end: number;
  readonly rule: string;
  readonly highestMmHg: number;
  /** Over the median of the 2 min before; over the lowest value inside where nothing stood before. */
  readonly riseMmHg: number;
}

/** The removed excursions of ICP of 40 mmHg or more among the marks. */
export function largeExcursions(raw: Signal, marks: readonly Mark[]): LargeExcursion[] {
  return marks.flatMap((mark) => {
    if (mark.channel !== 'icp' || mark.grade !== 'removed') return [];
    const from = firstAtOrAfter(raw.times, mark.start);
    const inside = raw.values.subarray(from, firstAfter(raw.times, mark.end));
    if (inside.length === 0) return [];
    const before = raw.values.subarray(firstAtOrAfter(raw.times, mark.start - BASELINE_MS), from);
    const highestMmHg = inside.reduce((a, b) => Math.max(a, b));
    const baseline = before.length > 0 ? median(before) : inside.reduce((a, b) => Math.min(a, b));
    const riseMmHg = highestMmHg - baseline;
    if (riseMmHg < LARGE_MMHG) return [];
    return [{ start: mark.start, end: mark.end, rule: mark.rule, highestMmHg, riseMmHg }];
  });
}
