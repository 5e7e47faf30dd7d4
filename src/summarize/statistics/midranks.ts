/** Ranks of a list, with what the same values do to them. */
export interface Midranks {
  /** From 1 on, in the order of the values. */
  readonly ranks: Float64Array;
  /** Sum of t^3 - t over groups of t same values; 0 where all differ. */
  readonly ties: number;
}

/** Ranks in rising order; same values share the middle of their places. */
export function midranks(values: ArrayLike<number>): Midranks {
  const n = values.length;
  const order = Uint32Array.from({ length: n }, (_, i) => i).sort((a, b) => values[a] - values[b]);
  const ranks = new Float64Array(n);
  let ties = 0;
  for (let from = 0; from < n; ) {
    let to = from + 1;
    while (to < n && values[order[to]] === values[order[from]]) to++;
    const size = to - from;
    ties += size * (size * size - 1);
    for (let i = from; i < to; i++) ranks[order[i]] = (from + to + 1) / 2;
    from = to;
  }
  return { ranks, ties };
}
