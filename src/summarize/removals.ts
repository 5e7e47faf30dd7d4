import type { Evidence, Mark } from '../clean/rule.js';
import { RULES } from '../clean/rules.js';
import type { Interval } from '../recording/interval.js';
import { median } from '../recording/rolling-median.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from './dose.js';

/** So many of the largest removals are shown one by one, so that a reader can disagree. */
const LARGEST = 10;
/** Removed excursions of this size are listed, however many there are. */
export const LARGE_MMHG = 40;
const BASELINE_MS = 120_000;

/** A stretch of ICP that cleaning removed, whichever rules took parts of it. */
export interface Removal extends Interval {
  /** In the order of the list of rules. */
  readonly rules: readonly string[];
  /** Who decided on any of it, where a person did. */
  readonly decidedBy: readonly string[];
  readonly evidence: readonly Evidence[];
  /** Median of what was kept in the 2 min before, else in the 2 min after, else the lowest value inside; mmHg. */
  readonly baselineMmHg: number;
  /** The extreme samples inside, as exported; mmHg. */
  readonly highestMmHg: number;
  readonly lowestMmHg: number;
  /** From the baseline to the highest sample, mmHg. */
  readonly riseMmHg: number;
  /** Area between the signal as exported and the baseline, above and below, mmHg.min. */
  readonly areaMmHgMinutes: number;
}

/** Removed marks of ICP that share samples, told as one stretch. */
function groupsOf(marks: readonly Mark[]): (Interval & { readonly marks: readonly Mark[] })[] {
  const groups: { start: number; end: number; marks: Mark[] }[] = [];
  const removed = marks.filter(({ channel, grade }) => channel === 'icp' && grade === 'removed');
  for (const mark of removed.toSorted((a, b) => a.start - b.start)) {
    const last = groups.at(-1);
    if (last && mark.start <= last.end) {
      last.end = Math.max(last.end, mark.end);
      last.marks.push(mark);
    } else groups.push({ start: mark.start, end: mark.end, marks: [mark] });
  }
  return groups;
}

/** Samples between two instants that no group took. */
function keptOver(
  { times, values }: Signal,
  from: number,
  to: number,
  taken: readonly Interval[],
): Float64Array {
  const first = firstAtOrAfter(times, from);
  const isKept = (t: number): boolean => !taken.some(({ start, end }) => start <= t && t <= end);
  return values.subarray(first, firstAfter(times, to)).filter((_, i) => isKept(times[first + i]));
}

const placeOf = (rule: string): number => RULES.findIndex(({ name }) => name === rule);

/** All stretches of ICP that were removed and hold a sample, in time order. */
export function removalsOf(raw: Signal, marks: readonly Mark[]): Removal[] {
  const groups = groupsOf(marks);
  return groups.flatMap(({ start, end, marks: mine }) => {
    const first = firstAtOrAfter(raw.times, start);
    const behind = firstAfter(raw.times, end);
    const inside = raw.values.subarray(first, behind);
    if (inside.length === 0) return [];
    const near = groups.filter((one) => one.start <= end + BASELINE_MS && one.end >= start - BASELINE_MS);
    const before = keptOver(raw, start - BASELINE_MS, start, near);
    const level = before.length > 0 ? before : keptOver(raw, end, end + BASELINE_MS, near);
    const highestMmHg = inside.reduce((a, b) => Math.max(a, b));
    const lowestMmHg = inside.reduce((a, b) => Math.min(a, b));
    const baselineMmHg = level.length > 0 ? median(level) : lowestMmHg;
    // With the pieces that reach to the kept samples at both ends: they became unknown too.
    const window = {
      start: raw.times[Math.max(0, first - 1)],
      end: raw.times[Math.min(raw.times.length - 1, behind)],
    };
    const areaMmHgHours =
      doseAboveMmHgHours(raw, window, baselineMmHg) + doseBelowMmHgHours(raw, window, baselineMmHg);
    return [
      {
        start,
        end,
        rules: [...new Set(mine.map(({ rule }) => rule))].sort((a, b) => placeOf(a) - placeOf(b)),
        decidedBy: [...new Set(mine.flatMap(({ decidedBy }) => decidedBy ?? []))],
        evidence: mine.flatMap(({ evidence }) => evidence ?? []),
        baselineMmHg,
        highestMmHg,
        lowestMmHg,
        riseMmHg: highestMmHg - baselineMmHg,
        areaMmHgMinutes: areaMmHgHours * 60,
      },
    ];
  });
}

/** The removals of the largest area, the largest first; earlier ones first where they are equal. */
export const largestRemovals = (removals: readonly Removal[]): Removal[] =>
  removals.toSorted((a, b) => b.areaMmHgMinutes - a.areaMmHgMinutes).slice(0, LARGEST);

/** The removals that rose by 40 mmHg or more over their baseline, in time order. */
export const largeExcursions = (removals: readonly Removal[]): Removal[] =>
  removals.filter(({ riseMmHg }) => riseMmHg >= LARGE_MMHG);
