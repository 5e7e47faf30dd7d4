import { Problem } from '../../recording/problem.js';
import { firstAfter, firstAtOrAfter } from '../../recording/search.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { RowSeries } from './row-series.js';

/** Rows whose times a clock showed twice, by series and row, with the reason. */
export type Doubled = ReadonlyMap<RowSeries, ReadonlyMap<number, string>>;

/** More steps back than this are an order of rows, and no clock. */
const MOST_STEPS_BACK = 24;
/** Rows at the same times may disagree now and then; more than this share is a clock that went over them again. */
const MOST_DISAGREEING = 0.1;

interface Pass {
  readonly from: number;
  readonly to: number;
}

/** Rows of `pass` between two times, by index; a pass rises. */
function within(times: Float64Array, { from, to }: Pass, low: number, high: number): Pass {
  const rising = times.subarray(from, to);
  return { from: from + firstAtOrAfter(rising, low), to: from + firstAfter(rising, high) };
}

/** `3 min`, `40 s`. */
const duration = (ms: number): string =>
  ms < 60_000 ? `${Number((ms / 1000).toFixed(1))} s` : `${Number((ms / 60_000).toFixed(1))} min`;

const HOUR_MS = 3_600_000;

/** @throws Problem where the times go back by a day at midnight: the date was not changed with the clock */
function refuseMidnight(series: RowSeries, at: number, clock: ZoneClock): void {
  const [before, behind] = [series.times.at(at - 1), series.times.at(at)];
  const sinceMidnight = clock.toLocal(behind) % (24 * HOUR_MS);
  const back = before - behind;
  if (sinceMidnight > HOUR_MS || back < 22 * HOUR_MS || back >= 24 * HOUR_MS) return;
  throw new Problem(
    `the clock passes midnight here, and the date stays: ${wall(clock, before)} is followed by ${wall(clock, behind)}`,
    'Export the date with each time; a date of the recording alone is not enough.',
    { file: series.file, line: series.lines.at(at) },
  );
}

/** Local time to the second. */
const wall = (clock: ZoneClock, utcMs: number): string => clock.format(utcMs).slice(0, 19).replace('T', ' ');

const rowsIn = ({ from, to }: Pass): number => to - from;

/** True where two passes over the same times are not the same rows twice. */
function contradict(series: RowSeries, a: Pass, b: Pass): boolean {
  const times = series.times.values();
  const later = new Map<number, number>();
  for (let i = b.from; i < b.to; i++) later.set(times[i], i);
  let shared = 0;
  let differ = 0;
  for (let i = a.from; i < a.to; i++) {
    const other = later.get(times[i]);
    if (other === undefined) continue;
    shared++;
    const same = series.channels.every(({ values }) => {
      const [x, y] = [values.at(i), values.at(other)];
      return x === y || Number.isNaN(x) || Number.isNaN(y);
    });
    if (!same) differ++;
  }
  const fewer = Math.min(rowsIn(a), rowsIn(b));
  return shared < fewer / 2 ? fewer >= 2 : differ > MOST_DISAGREEING * shared;
}

/**
 * Finds clocks that were set back: the rows behind go over times that stand already, with other rows. Which of the
 * two had the right time nobody can say, so both passes are set aside, and the rest is kept.
 */
export function clockSetBack(
  allSeries: readonly RowSeries[],
  clock: ZoneClock,
): { doubled: Doubled; warnings: string[] } {
  const doubled = new Map<RowSeries, Map<number, string>>();
  const warnings: string[] = [];
  for (const series of allSeries) {
    const { stepsBack } = series;
    if (stepsBack.length === 0) continue;
    if (stepsBack.length > MOST_STEPS_BACK || 2 * stepsBack.length > series.times.length) {
      warnings.push(`${series.file}: the rows do not stand in the order of their times; they were sorted.`);
      continue;
    }
    const times = series.times.values();
    const starts = [0, ...stepsBack, times.length];
    for (const at of stepsBack) {
      const before: Pass = { from: starts[starts.indexOf(at) - 1], to: at };
      const behind: Pass = { from: at, to: starts[starts.indexOf(at) + 1] };
      const low = Math.max(times[before.from], times[at]);
      const high = Math.min(times[at - 1], times[behind.to - 1]);
      if (low > high) {
        refuseMidnight(series, at, clock);
        warnings.push(
          `${series.file}: the times go back by ${duration(times[at - 1] - times[at])} at line ${series.lines.at(at)}; the rows were put in the order of their times.`,
        );
        continue;
      }
      const first = within(times, before, low, high);
      const second = within(times, behind, low, high);
      if (!contradict(series, first, second)) continue;
      const what = `the clock goes back by ${duration(times[at - 1] - times[at])} at line ${series.lines.at(at)}`;
      const reason = `${what}: the times from ${wall(clock, low)} to ${wall(clock, high)} stand twice`;
      const marks = doubled.get(series) ?? new Map<number, string>();
      for (const { from, to } of [first, second]) for (let i = from; i < to; i++) marks.set(i, reason);
      doubled.set(series, marks);
      warnings.push(`${series.file}: ${reason}; both were set aside.`);
    }
  }
  return { doubled, warnings };
}
