import type { Interval } from '../../recording/interval.js';
import { firstAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';

/** A point of a drawn line: minutes after the start of the chart, value, and the unbroken run that it belongs to. */
export interface LinePoint {
  readonly x: number;
  readonly y: number;
  readonly run: number;
}

/**
 * The signal's known runs inside the window with no more than the lowest and the highest sample a pixel column, so
 * that no peak is lost; the ends of each run stay.
 *
 * @param columns width of the plot in pixels
 */
export function minMaxLine(signal: Signal, window: Interval, columns: number): LinePoint[] {
  const { times, values, known } = signal;
  const points: LinePoint[] = [];
  const width = window.end - window.start;
  const columnOf = (i: number): number => Math.floor(((times[i] - window.start) / width) * columns);
  let run = 0;
  const put = (i: number): void => {
    points.push({ x: Math.round((times[i] - window.start) / 60) / 1000, y: values[i], run });
  };
  for (let i = Math.max(0, firstAfter(times, window.start) - 1); i < times.length; i++) {
    if (times[i] < window.start || !known[i]) continue;
    if (times[i] > window.end) break;
    run++;
    put(i);
    let last = i;
    let lowest = i;
    let highest = i;
    const flush = (): void => {
      const [a, b] = lowest < highest ? [lowest, highest] : [highest, lowest];
      if (a > last) put(a);
      if (b > a && b > last) put(b);
      last = Math.max(last, b);
    };
    let k = i + 1;
    for (; k < times.length && known[k - 1] && times[k] <= window.end; k++) {
      if (columnOf(k) !== columnOf(lowest)) {
        flush();
        lowest = k;
        highest = k;
      }
      if (values[k] < values[lowest]) lowest = k;
      if (values[k] > values[highest]) highest = k;
    }
    flush();
    if (k - 1 > last) put(k - 1);
    i = k - 1;
  }
  return points;
}

/** Points of one drawn path: a missing value breaks it between runs, which is much cheaper than a path for each. */
export const withBreaks = (points: readonly LinePoint[]): { x: number; y: number | null }[] =>
  points.flatMap(({ x, y, run }, i) =>
    i > 0 && points[i - 1].run !== run
      ? [
          { x, y: null },
          { x, y },
        ]
      : [{ x, y }],
  );
