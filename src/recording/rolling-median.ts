import { windowFor } from './window-median.js';

/** The median of a list that is not empty, in any order. */
export function median(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values as number[]).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/**
 * Medians over windows of samples that move forward together with `i`.
 *
 * @param values finite samples
 * @param from first index of window `i`, never decreasing
 * @param to index after the last of window `i`, never decreasing
 * @returns the median of each window, NaN where it is empty
 */
export function rollingMedian(values: Float64Array, from: Uint32Array, to: Uint32Array): Float64Array {
  const medians = new Float64Array(from.length);
  const window = windowFor(values);
  let entered = 0;
  let left = 0;
  for (let i = 0; i < from.length; i++) {
    for (; entered < to[i]; entered++) window.add(entered);
    for (; left < from[i]; left++) window.remove(left);
    medians[i] = window.median();
  }
  return medians;
}
