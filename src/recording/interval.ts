/** A stretch of time, both ends in milliseconds since 1970-01-01 UTC, `start <= end`. */
export interface Interval {
  readonly start: number;
  readonly end: number;
}

/** Length in milliseconds. */
export const lengthMs = (interval: Interval): number => interval.end - interval.start;

/** Sum of the lengths in milliseconds; overlaps count twice, so unite first where that matters. */
export const totalMs = (intervals: readonly Interval[]): number =>
  intervals.reduce((sum, interval) => sum + lengthMs(interval), 0);

/** The same points of time as a sorted list without overlaps; touching intervals are joined. */
export function unite(intervals: readonly Interval[]): Interval[] {
  const sorted = [...intervals].sort((a, b) => a.start - b.start || a.end - b.end);
  const united: { start: number; end: number }[] = [];
  for (const { start, end } of sorted) {
    const last = united.at(-1);
    if (last && start <= last.end) last.end = Math.max(last.end, end);
    else united.push({ start, end });
  }
  return united;
}

/** What two sorted lists without overlaps have in common; single instants are dropped. */
export function intersect(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const common: Interval[] = [];
  for (let i = 0, j = 0; i < a.length && j < b.length; ) {
    const start = Math.max(a[i].start, b[j].start);
    const end = Math.min(a[i].end, b[j].end);
    if (start < end) common.push({ start, end });
    if (a[i].end < b[j].end) i++;
    else j++;
  }
  return common;
}

/** What remains of `a` without `b`; both are sorted lists without overlaps. */
export function subtract(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const rest: Interval[] = [];
  let j = 0;
  for (const { start, end } of a) {
    let from = start;
    while (j < b.length && b[j].end <= from) j++;
    for (let k = j; k < b.length && b[k].start < end; k++) {
      if (b[k].start > from) rest.push({ start: from, end: b[k].start });
      from = Math.max(from, b[k].end);
    }
    if (from < end) rest.push({ start: from, end });
  }
  return rest;
}

/** True where the two share more than an instant, or one is an instant inside the other. */
export const overlaps = (a: Interval, b: Interval): boolean =>
  (a.start < b.end && b.start < a.end) ||
  (a.start <= b.start && b.end <= a.end) ||
  (b.start <= a.start && a.end <= b.end);
