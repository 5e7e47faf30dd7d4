/** Index of the first entry of a sorted array that is at or after `at`; its length where none is. */
export function firstAtOrAfter(sorted: ArrayLike<number>, at: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle] < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Index of the first entry of a sorted array that is after `at`; its length where none is. */
export function firstAfter(sorted: ArrayLike<number>, at: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if (sorted[middle] <= at) low = middle + 1;
    else high = middle;
  }
  return low;
}
