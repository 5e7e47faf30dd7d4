import { PairMoments } from './pair-moments.js';

/**
 * Goes over every window of `length` neighbouring pairs in order, with the moments of its pairs. The lists are cut into
 * blocks as long as a window: each window is the end of one block and the beginning of the next, so a pair costs a few
 * steps however long the window is. (The cutting is that of van Herk, Pattern Recognition Letters 1992;13:517-21, for
 * moving maxima.)
 *
 * @param visit told how many pairs lie up to the window's end, and the moments, which are overwritten afterwards; windows
 *   that begin before the first pair hold what is there
 */
export function movingMoments(
  x: Float64Array,
  y: Float64Array,
  length: number,
  visit: (end: number, moments: PairMoments) => void,
): void {
  /** Of the pairs of the block before, from each place to its end. */
  const ends = Array.from({ length: length + 1 }, () => new PairMoments());
  const beginning = new PairMoments();
  const window = new PairMoments();
  for (let start = 0; start < x.length; start += length) {
    beginning.clear();
    const stop = Math.min(x.length, start + length);
    for (let i = start; i < stop; i++) {
      beginning.add(x[i], y[i]);
      window.copy(ends[i + 1 - start]);
      window.join(beginning);
      visit(i + 1, window);
    }
    for (let i = stop - 1; i >= start; i--) {
      ends[i - start].copy(ends[i + 1 - start]);
      ends[i - start].add(x[i], y[i]);
    }
  }
}
