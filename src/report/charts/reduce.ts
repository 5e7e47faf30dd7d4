import type { Interval } from '../../recording/interval.js';
import { firstAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';

/** A point of a drawn line: minutes after the start of the chart, value, and the unbroken run that it belongs to. */
export interface LinePoint {
  readonly x: number;
  readonly y: number;
  readonly run: number;
}

/** A point in time, milliseconds UTC. */
type Sample = readonly [time: number, value: number];

/**
 * The signal inside the window with at most four points a pixel column: the first, the lowest, the highest and the
 * last, in time order, so that no peak is lost however often the signal comes and goes. Columns are joined where the
 * signal is known across their border; inside a column a gap is narrower than a pixel, and is not drawn. Where the
 * signal is known across an edge of the window, the line begins or ends on the edge.
 *
 * @param columns width of the plot in pixels
 */
export function minMaxLine(signal: Signal, window: Interval, columns: number): LinePoint[] {
  const { times, values, known } = signal;
  const { start, end } = window;
  const points: LinePoint[] = [];
  let run = 0;
  let column = -1;
  let first: Sample = [Number.NEGATIVE_INFINITY, 0];
  let [lowest, highest] = [first, first];
  let [lastTime, lastValue] = first;
  const flush = (): void => {
    if (column < 0) return;
    const last: Sample = [lastTime, lastValue];
    const inOrder = lowest[0] < highest[0] ? [first, lowest, highest, last] : [first, highest, lowest, last];
    inOrder.forEach(([time, y], i) => {
      if (i === 0 || time > inOrder[i - 1][0]) points.push({ x: (time - start) / 60_000, y, run });
    });
  };
  const take = (time: number, value: number, isJoined: boolean): void => {
    const own = Math.min(columns - 1, Math.floor(((time - start) / (end - start)) * columns));
    if (own !== column) {
      flush();
      if (!isJoined) run++;
      column = own;
      first = [time, value];
      lowest = first;
      highest = first;
    } else if (value < lowest[1]) lowest = [time, value];
    else if (value > highest[1]) highest = [time, value];
    lastTime = time;
    lastValue = value;
  };
  for (let i = Math.max(0, firstAfter(times, start) - 1); i < times.length - 1 && times[i] < end; i++) {
    if (!known[i] || times[i + 1] <= start) continue;
    const slope = (values[i + 1] - values[i]) / (times[i + 1] - times[i]);
    const isCut = times[i] < start;
    if (isCut) take(start, values[i] + slope * (start - times[i]), false);
    else if (i === 0 || !known[i - 1] || times[i] === start) take(times[i], values[i], false);
    if (times[i + 1] > end) take(end, values[i] + slope * (end - times[i]), true);
    else take(times[i + 1], values[i + 1], true);
  }
  flush();
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
