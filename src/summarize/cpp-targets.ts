import type { Interval } from '../recording/interval.js';

/** The lower target of CPP over a stretch of time, ends in milliseconds UTC, the first and the last one open. */
export interface CppTarget extends Interval {
  readonly belowMmHg: number;
  /** The row of a table that says it; null where the pipeline file or its preset does. */
  readonly row: { readonly file: string; readonly line: number } | null;
}

/** From when on a target of a table holds, and until when; null: from the start, and until the next one. */
export interface SetTarget {
  readonly from: number | null;
  readonly until: number | null;
  readonly cppBelowMmHg: number;
  readonly file: string;
  readonly line: number;
}

/**
 * Which target is in force when, over all time: that of the last row from whose time on it holds. Before the first
 * row, and behind the end that a row gives, it is that of the pipeline file.
 *
 * @param rows of one patient, by time, each of another time and none begun before the end that another gives
 * @param belowMmHg the target where no row says one
 */
export function targetsInForce(rows: readonly SetTarget[], belowMmHg: number): CppTarget[] {
  const own = { belowMmHg, row: null };
  const targets: CppTarget[] = [];
  let reached = Number.NEGATIVE_INFINITY;
  rows.forEach(({ from, until, cppBelowMmHg, file, line }, i) => {
    const start = from ?? Number.NEGATIVE_INFINITY;
    const end = until ?? rows[i + 1]?.from ?? Number.POSITIVE_INFINITY;
    if (start > reached) targets.push({ ...own, start: reached, end: start });
    targets.push({ start, end, belowMmHg: cppBelowMmHg, row: { file, line } });
    reached = end;
  });
  if (reached < Number.POSITIVE_INFINITY) {
    targets.push({ ...own, start: reached, end: Number.POSITIVE_INFINITY });
  }
  return targets;
}
