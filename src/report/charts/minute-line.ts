import type { Interval } from '../../recording/interval.js';
import { firstAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { MINUTE_MS, type MinuteCourse } from '../../summarize/perfusion/minute-course.js';
import { type LinePoint, minMaxLine } from './reduce.js';

/** The course as a signal through its stamps; a minute that stands alone is as long as it is, so that it shows. */
export function courseSignal({ firstEnd, values }: MinuteCourse): Signal {
  const isKnown = (i: number): boolean => i >= 0 && i < values.length && !Number.isNaN(values[i]);
  const times: number[] = [];
  const shown: number[] = [];
  const known: number[] = [];
  const add = (time: number, value: number, goesOn: boolean): void => {
    times.push(time);
    shown.push(value);
    known.push(goesOn ? 1 : 0);
  };
  values.forEach((value, i) => {
    if (!isKnown(i)) return;
    const end = firstEnd + i * MINUTE_MS;
    if (!isKnown(i - 1) && !isKnown(i + 1)) add(end - MINUTE_MS + 1, value, true);
    add(end, value, isKnown(i + 1));
  });
  return { times: Float64Array.from(times), values: Float64Array.from(shown), known: Uint8Array.from(known) };
}

/** The line of a course over a window, gaps left open. */
export const minuteLine = (course: MinuteCourse, window: Interval, columns: number): LinePoint[] =>
  minMaxLine(courseSignal(course), window, columns);

/** A course at the minutes at whose end a signal is known; unknown at all others. */
export const whereKnown = ({ firstEnd, values }: MinuteCourse, { times, known }: Signal): MinuteCourse => ({
  firstEnd,
  values: values.map((value, i) => {
    const end = firstEnd + i * MINUTE_MS;
    const before = firstAfter(times, end) - 1;
    const isThere = known[before] === 1 || (times[before] === end && known[before - 1] === 1);
    return isThere ? value : Number.NaN;
  }),
});

/** The part of a stretch from the first of its minutes that is known to the last; null where none is. */
export function knownPart({ firstEnd, values }: MinuteCourse, { start, end }: Interval): Interval | null {
  const isKnown = (at: number): boolean => {
    const value = values[Math.round((at - firstEnd) / MINUTE_MS)];
    return value !== undefined && !Number.isNaN(value);
  };
  let from = firstEnd + Math.ceil((start + 1 - firstEnd) / MINUTE_MS) * MINUTE_MS;
  while (from <= end && !isKnown(from)) from += MINUTE_MS;
  let to = firstEnd + Math.floor((end - firstEnd) / MINUTE_MS) * MINUTE_MS;
  while (to > from && !isKnown(to)) to -= MINUTE_MS;
  return from > end ? null : { start: Math.max(start, from - MINUTE_MS), end: Math.min(end, to) };
}

/** Means of stretches as level lines, such as of hours; those without a mean leave a gap. */
export const levelLine = (
  stretches: readonly (Interval & { readonly mean: number | null })[],
  window: Interval,
): LinePoint[] => {
  let run = 0;
  let last: { readonly end: number } | null = null;
  return stretches.flatMap(({ start, end, mean }) => {
    if (mean === null) return [];
    if (last === null || last.end !== start) run++;
    last = { end };
    const x = (at: number): number => (at - window.start) / MINUTE_MS;
    return [
      { x: x(start), y: mean, run },
      { x: x(end), y: mean, run },
    ];
  });
};
