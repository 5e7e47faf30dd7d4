import type { Interval } from '../recording/interval.js';

/** The lower target of CPP over a stretch of time, ends in milliseconds UTC, the first and the last one open. */
export interface CppTarget extends Interval {
  readonly belowMmHg: number;
  /** The row of a table that says it; null where the pipeline file or its preset does. */
  readonly row: { readonly file: string; readonly line: number } | null;
}

/** From when on a target of a table holds; null: from the start. */
export interface SetTarget {
  readonly from: number | null;
  readonly cppBelowMmHg: number;
  readonly file: string;
  readonly line: number;
}

/**
 * Which target is in force when, over all time: that of the last row from whose time on it holds, and before the first
 * row that of the pipeline file.
 *
 * @param rows of one patient, by time, each of another time
 * @param belowMmHg the target where no row says one
 */
export function targetsInForce(rows: readonly SetTarget[], belowMmHg: number): CppTarget[] {
  const set = rows.map(({ from, cppBelowMmHg, file, line }) => ({
    start: from ?? Number.NEGATIVE_INFINITY,
    belowMmHg: cppBelowMmHg,
    row: { file, line },
  }));
  const isFromStart = set[0]?.start === Number.NEGATIVE_INFINITY;
  const all = isFromStart ? set : [{ start: Number.NEGATIVE_INFINITY, belowMmHg, row: null }, ...set];
  return all.map((target, i) => ({ ...target, end: all[i + 1]?.start ?? Number.POSITIVE_INFINITY }));
}
