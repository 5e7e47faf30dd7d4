/** All times of two sorted lists, once each, with the piece of either signal that begins at or before each of them. */
export interface Merged {
  readonly times: Float64Array;
  readonly pieceOfA: Uint32Array;
  readonly pieceOfB: Uint32Array;
}

/** How many different times two sorted lists hold together. */
function countTogether(a: Float64Array, b: Float64Array): number {
  let [n, i, j] = [0, 0, 0];
  while (i < a.length && j < b.length) {
    const [x, y] = [a[i], b[j]];
    if (x <= y) i++;
    if (y <= x) j++;
    n++;
  }
  return n + (a.length - i) + (b.length - j);
}

/** Merges two sorted lists of times. The piece of the last sample, which is never known, stands for the time before the first. */
export function merge(a: Float64Array, b: Float64Array): Merged {
  // Counted first: arrays that might be twice as long would stay as long as the difference does.
  const times = new Float64Array(countTogether(a, b));
  const pieceOfA = new Uint32Array(times.length);
  const pieceOfB = new Uint32Array(times.length);
  let [i, j] = [0, 0];
  for (let n = 0; n < times.length; n++) {
    const t = j >= b.length || (i < a.length && a[i] <= b[j]) ? a[i] : b[j];
    if (a[i] === t) i++;
    if (b[j] === t) j++;
    times[n] = t;
    pieceOfA[n] = (i === 0 ? a.length : i) - 1;
    pieceOfB[n] = (j === 0 ? b.length : j) - 1;
  }
  return { times, pieceOfA, pieceOfB };
}

/**
 * The same with more times, each in the pieces that it falls into.
 *
 * @param more sorted
 */
export function withTimes(merged: Merged, more: Float64Array): Merged {
  if (more.length === 0) return merged;
  const all = merge(merged.times, more);
  const pieceIn = (pieces: Uint32Array): Uint32Array => all.pieceOfA.map((i) => pieces[i]);
  return { times: all.times, pieceOfA: pieceIn(merged.pieceOfA), pieceOfB: pieceIn(merged.pieceOfB) };
}
