/**
 * The distribution of W, the number of pairs in which the one of the first group is higher, where both groups come from
 * one distribution and no two values are the same: by the group of the highest value, one value at a time. Each step is a
 * mean of shares, so nothing cancels. Source: Mann & Whitney, Ann Math Stat 1947;18:50-60 (the recursion).
 *
 * @param first size of the first group, 1 or more
 * @param second size of the second group, 1 or more
 * @returns the share of each W from 0 to first * second
 */
export function rankSumDistribution(first: number, second: number): Float64Array {
  // Of i in the first group and each j in the second: rows[j]; those of i - 1 are overwritten.
  let rows: Float64Array[] = Array.from({ length: second + 1 }, () => Float64Array.of(1));
  for (let i = 1; i <= first; i++) {
    const next: Float64Array[] = [Float64Array.of(1)];
    for (let j = 1; j <= second; j++) {
      const shares = new Float64Array(i * j + 1);
      // The highest is of the first group, above all j of the second; or it is of the second, and adds no pair.
      const [above, below] = [i / (i + j), j / (i + j)];
      rows[j].forEach((share, w) => {
        shares[w + j] += above * share;
      });
      next[j - 1].forEach((share, w) => {
        shares[w] += below * share;
      });
      next.push(shares);
    }
    rows = next;
  }
  return rows[second];
}
