/** The median of a sorted list that is not empty. */
export function medianSorted(sorted: ArrayLike<number>, length = sorted.length): number {
  const middle = length >> 1;
  return length % 2 === 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
}

/** The median of a list that is not empty, in any order. */
export const median = (values: ArrayLike<number>): number =>
  medianSorted(Float64Array.from(values as number[]).sort());

/**
 * Medians over windows of samples that move forward together with `i`.
 *
 * @param values samples; only those that fall into a window have to be finite
 * @param windowOf first index and the index after the last of window `i`; neither may decrease as i grows
 * @returns the median of each window, NaN where it is empty
 */
export function rollingMedian(
  values: Float64Array,
  windowOf: (i: number) => readonly [from: number, to: number],
): Float64Array {
  const medians = new Float64Array(values.length);
  let sorted = new Float64Array(256);
  let size = 0;
  let entered = 0;
  let left = 0;
  const positionOf = (value: number): number => {
    let low = 0;
    let high = size;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if (sorted[middle] < value) low = middle + 1;
      else high = middle;
    }
    return low;
  };
  for (let i = 0; i < values.length; i++) {
    const [from, to] = windowOf(i);
    for (; entered < to; entered++) {
      if (size === sorted.length) {
        const larger = new Float64Array(size * 2);
        larger.set(sorted);
        sorted = larger;
      }
      const at = positionOf(values[entered]);
      sorted.copyWithin(at + 1, at, size);
      sorted[at] = values[entered];
      size++;
    }
    for (; left < from; left++) {
      const at = positionOf(values[left]);
      sorted.copyWithin(at, at + 1, size);
      size--;
    }
    medians[i] = size === 0 ? Number.NaN : medianSorted(sorted, size);
  }
  return medians;
}
