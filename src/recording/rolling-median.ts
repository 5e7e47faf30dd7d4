import quickselect from 'quickselect';
import { windowFor } from './window-median.js';

/** Shorter lists are sorted as fast. */
const FEW = 64;

/** The median of a list that is not empty, in any order. */
export function median(values: ArrayLike<number>): number {
  const list = Float64Array.from(values as number[]);
  const middle = list.length >> 1;
  if (list.length < FEW || list.includes(Number.NaN)) {
    list.sort();
    return list.length % 2 === 1 ? list[middle] : (list[middle - 1] + list[middle]) / 2;
  }
  // Its types know plain lists only.
  quickselect(list as unknown as number[], middle);
  if (list.length % 2 === 1) return list[middle];
  // What stands before the middle is not larger, in no order.
  let below = list[0];
  for (let i = 1; i < middle; i++) if (list[i] > below) below = list[i];
  return (below + list[middle]) / 2;
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
