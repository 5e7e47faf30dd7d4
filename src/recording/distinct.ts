/** The different values of a series, sorted; NaN left out. */
export function distinctSorted(values: Float64Array): Float64Array {
  const sorted = values.slice().sort();
  let count = 0;
  for (let i = 0; i < sorted.length; i++) {
    const value = sorted[i];
    if (!Number.isNaN(value) && (count === 0 || value !== sorted[count - 1])) sorted[count++] = value;
  }
  return sorted.slice(0, count);
}
