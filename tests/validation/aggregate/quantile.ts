/**
 * The value below which the share `p` of the values lies, linear between neighbours; null of none.
 * Definition 7 of Hyndman & Fan, The American Statistician 1996;50:361-5.
 */
export function quantile(values: readonly number[], p: number): number | null {
  if (values.length === 0) return null;
  const sorted = [...values].sort((a, b) => a - b);
  const place = (sorted.length - 1) * p;
  const below = Math.floor(place);
  const above = Math.min(sorted.length - 1, below + 1);
  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}
