import { Problem } from '../../recording/problem.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { RowSeries } from './row-series.js';

/** Fewer rows than this in common are an edge, and no second source. */
const LEAST_ROWS = 10;
/** Rates further apart than this are a file of means beside a file of samples. */
const SAME_RATE = 3;

const sharedChannel = (a: RowSeries, b: RowSeries): string | null =>
  a.channels.find(({ kind }) => b.channels.some((other) => other.kind === kind))?.kind ?? null;

/** A series and its times in order. */
interface Sorted {
  readonly series: RowSeries;
  readonly times: Float64Array;
}

/** Sorted times from `low` to `high`. */
const between = (times: Float64Array, low: number, high: number): Float64Array =>
  times.subarray(firstAtOrAfter(times, low), firstAfter(times, high));

/**
 * @throws Problem where two files hold the same channel over the same time at about the same rate, and their rows
 *   stand at other times: joined, they would make a zigzag of two signals
 */
export function interleaved(series: readonly RowSeries[]): void {
  const ordered = series
    .filter(({ times }) => times.length > 0)
    .map(
      (one): Sorted => ({
        series: one,
        times: one.isRising ? one.times.values() : one.times.values().slice().sort(),
      }),
    )
    .sort((a, b) => a.times[0] - b.times[0]);
  let open: Sorted[] = [];
  for (const b of ordered) {
    const [start] = b.times;
    open = open.filter(({ times }) => times[times.length - 1] >= start);
    for (const a of open) refusePair(a, b, start);
    open.push(b);
  }
}

/** @throws Problem where the two make a zigzag from `start` on */
function refusePair(a: Sorted, b: Sorted, start: number): void {
  const kind = a.series.file === b.series.file ? null : sharedChannel(a.series, b.series);
  if (kind === null) return;
  const end = Math.min(a.times[a.times.length - 1], b.times[b.times.length - 1]);
  const [mine, theirs] = [between(b.times, start, end), between(a.times, start, end)];
  const fewer = Math.min(mine.length, theirs.length);
  if (fewer < LEAST_ROWS || Math.max(mine.length, theirs.length) > SAME_RATE * fewer) return;
  const known = new Set(theirs);
  let shared = 0;
  for (const time of mine) if (known.has(time)) shared++;
  if (shared >= fewer / 2) return;
  throw new Problem(
    `${a.series.file} and ${b.series.file} both hold ${kind.toUpperCase()} over the same ${Math.round((end - start) / 60_000)} min, in rows that do not fit each other`,
    'Where they are two patients or two sources, tell them apart; otherwise leave one of them out.',
    { file: b.series.file, line: b.series.lines.at(0) },
  );
}
