import { whyNoRule } from '../resolvable.js';

/** The grid of an intensity-duration map. */
export interface IntensityGrid {
  /** Rising, mmHg. */
  readonly intensitiesMmHg: readonly number[];
  /** Rising whole minutes. */
  readonly durationsMinutes: readonly number[];
}

const range = (from: number, to: number): number[] =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);

/** Intensities of ICP above which episodes are counted, 10 to 45 mmHg. */
export const ICP_INTENSITIES_MMHG: readonly number[] = range(10, 45);
/** Intensities of CPP below which episodes are counted, 40 to 80 mmHg. */
export const CPP_INTENSITIES_MMHG: readonly number[] = range(40, 80);

/** 40 durations from 1 to 360 min, about logarithmic; own convention, with 5 and 60 min among them. */
export const DURATIONS_MINUTES: readonly number[] = [
  1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 23, 26, 30, 34, 38, 43, 48, 54, 60, 68, 76, 85, 95, 106,
  120, 134, 150, 166, 184, 205, 230, 257, 288, 322, 360,
];

/** Index of the shortest duration that a sampling can show: as a rule of that length; their number where it shows none. */
export function firstResolvable(intervalMs: number, durationsMinutes: readonly number[]): number {
  const first = durationsMinutes.findIndex((minutes) => whyNoRule(intervalMs, minutes * 60) === null);
  return first < 0 ? durationsMinutes.length : first;
}
