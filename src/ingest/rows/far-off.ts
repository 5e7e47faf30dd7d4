import { Problem, type Where } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { RowSeries } from './row-series.js';

const DAY_MS = 86_400_000;
/** Rows further from the others than this are another stay, or a clock that was not set. */
const FAR_DAYS = 60;
/** A stay does not go on after this. */
const TOO_FAR_DAYS = 366;
/** So few rows, as a share or in all where the others are many more, are a clock that was not set. */
const FEW = 0.01;
const FEW_ROWS = 3;
const MANY_MORE = 10;

/** Times that stand together. */
interface Cluster {
  readonly start: number;
  readonly end: number;
  readonly rows: number;
}

function clustersOf(series: readonly RowSeries[]): Cluster[] {
  const times = Float64Array.from(series.flatMap((one) => [...one.times.values()])).sort();
  const clusters: Cluster[] = [];
  for (let from = 0; from < times.length; ) {
    let to = from + 1;
    while (to < times.length && times[to] - times[to - 1] <= FAR_DAYS * DAY_MS) to++;
    clusters.push({ start: times[from], end: times[to - 1], rows: to - from });
    from = to;
  }
  return clusters;
}

/** The extent of all rows, milliseconds. */
function extentMs(series: readonly RowSeries[]): number {
  let start = Number.POSITIVE_INFINITY;
  let end = Number.NEGATIVE_INFINITY;
  for (const { times } of series) {
    for (let i = 0; i < times.length; i++) {
      start = Math.min(start, times.at(i));
      end = Math.max(end, times.at(i));
    }
  }
  return end - start;
}

/** The row of a time. */
function placeAt(series: readonly RowSeries[], time: number): Where {
  for (const { file, times, lines } of series) {
    const index = times.values().indexOf(time);
    if (index >= 0) return { file, line: lines.at(index) };
  }
  return { file: series[0]?.file };
}

/**
 * Finds the few rows that stand months or years from all others: they would make a stay of decades.
 *
 * @returns the reason by row
 * @throws Problem where many rows lie more than a year apart
 */
export function farOff(
  series: readonly RowSeries[],
  clock: ZoneClock,
): { rows: ReadonlyMap<RowSeries, ReadonlyMap<number, string>>; warnings: string[] } {
  const rows = new Map<RowSeries, Map<number, string>>();
  if (!(extentMs(series) > FAR_DAYS * DAY_MS)) return { rows, warnings: [] };
  const clusters = clustersOf(series);
  const total = clusters.reduce((sum, one) => sum + one.rows, 0);
  const most = clusters.reduce((a, b) => (b.rows > a.rows ? b : a));
  const isFew = ({ rows: count }: Cluster): boolean =>
    count < FEW * total || (count <= FEW_ROWS && most.rows >= MANY_MORE * count);
  const few = clusters.filter((one) => one !== most && isFew(one));
  const kept = clusters.filter((one) => !few.includes(one));
  const warnings: string[] = [];
  for (const [i, one] of kept.entries()) {
    if (i === 0) continue;
    const days = Math.round((one.start - kept[i - 1].end) / DAY_MS);
    const what = `the rows lie ${days} days apart: nothing from ${clock.format(kept[i - 1].end)} to ${clock.format(one.start)}`;
    if (days > TOO_FAR_DAYS) {
      throw new Problem(
        what,
        'Tell two stays apart, or correct the clock of one.',
        placeAt(series, one.start),
      );
    }
    warnings.push(`${what}.`);
  }
  for (const one of series) {
    for (let i = 0; i < one.times.length && few.length > 0; i++) {
      const time = one.times.at(i);
      if (!few.some(({ start, end }) => time >= start && time <= end)) continue;
      const marks = rows.get(one) ?? new Map<number, string>();
      marks.set(i, `its time, ${clock.format(time)}, lies more than ${FAR_DAYS} days from all others`);
      rows.set(one, marks);
    }
  }
  return { rows, warnings };
}
