import type { Interval } from '../recording/interval.js';

/** The lower target of CPP over a stretch of time, ends in milliseconds UTC, the first and the last one open. */
export interface CppTarget extends Interval {
  readonly belowMmHg: number;
  /** The row of a table that says it; null where the pipeline file or its preset does. */
  readonly row: { readonly file: string; readonly line: number } | null;
}

/** The target of the pipeline file, over all time. */
export const oneTarget = (belowMmHg: number): CppTarget[] => [
  { start: Number.NEGATIVE_INFINITY, end: Number.POSITIVE_INFINITY, belowMmHg, row: null },
];
