import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import { type BinGrid, gridIn } from './bin-grid.js';
import { binMeans, whyNoBins } from './bin-means.js';
import { MINUTE_MS, type MinuteCourse } from './minute-course.js';
import { type MovingWindow, movingCorrelation } from './moving-correlation.js';

/** An index of pressure reactivity: the correlation of ICP and arterial pressure over slow waves. */
export interface ReactivityForm extends MovingWindow {
  readonly binMs: number;
}

/**
 * PRx: Pearson's r of 30 consecutive 10-s means. Source: Czosnyka et al., Neurosurgery 1997;41:11-17, in its later form of
 * 10 s x 30.
 */
export const PRX: ReactivityForm = { binMs: 10_000, pairs: 30, leastPairs: 15 };

/** The same from 1-min means in windows of 20 min, a low-frequency variant in the literature that is not PRx. */
export const MINUTE_INDEX: ReactivityForm = { binMs: MINUTE_MS, pairs: 20, leastPairs: 10 };

/** A channel with its nominal interval, milliseconds. */
export interface Sampled {
  readonly signal: Signal;
  readonly intervalMs: number;
}

/** The course of an index, with the means that it came of, or why there is none. */
export interface Reactivity {
  readonly form: ReactivityForm;
  readonly course: MinuteCourse;
  /** The same with the minutes that lead in. */
  readonly whole: MinuteCourse;
  readonly grid: BinGrid;
  /** Means of ICP and MAP by bin, mmHg. */
  readonly icp: Float64Array;
  readonly map: Float64Array;
}

/**
 * Reactivity over the minutes that end in the window (behind its start, up to its end); the first windows of the index may
 * begin before it.
 *
 * @returns why it cannot be had at all, as a text
 */
export function reactivityIn(
  icp: Sampled,
  map: Sampled,
  form: ReactivityForm,
  { start, end }: Interval,
): Reactivity | string {
  const coarse = whyNoBins(Math.max(icp.intervalMs, map.intervalMs), form.binMs);
  if (coarse !== null) return coarse;
  const lead = form.pairs * form.binMs;
  const grid = gridIn({ start: Math.floor(start / MINUTE_MS) * MINUTE_MS - lead, end }, form.binMs);
  const ofIcp = binMeans(icp.signal, icp.intervalMs, grid);
  const ofMap = binMeans(map.signal, map.intervalMs, grid);
  const whole = movingCorrelation(ofIcp, ofMap, grid, form);
  return { form, course: courseBehind(whole, start), whole, grid, icp: ofIcp, map: ofMap };
}

/** The minutes of a course that end behind an instant. */
export function courseBehind({ firstEnd, values }: MinuteCourse, start: number): MinuteCourse {
  const drop = Math.min(values.length, Math.max(0, Math.floor((start - firstEnd) / MINUTE_MS) + 1));
  return { firstEnd: firstEnd + drop * MINUTE_MS, values: values.subarray(drop) };
}
