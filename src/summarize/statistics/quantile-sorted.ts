/**
 * The quantile at `p` of a list in rising order that is not empty, by a line between neighbours: R's type 7. Source:
 * Hyndman & Fan, Am Stat 1996;50:361-5.
 *
 * @param p from 0 to 1
 */
export function quantileSorted(sorted: ArrayLike<number>, p: number): number {
  const place = p * (sorted.length - 1);
  const below = Math.floor(place);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}
