/** Patients who have episodes in a cell, sorted by their value, highest first; all others share the lowest value, 0. */
export interface SortedCell {
  readonly order: Uint16Array;
  /** 1 where the next patient has another value. */
  readonly endsGroup: Uint8Array;
}

/** Sorts the patients with a value over 0. */
export function sortedCell(values: ArrayLike<number>): SortedCell {
  const above = Array.from({ length: values.length }, (_, i) => i).filter((i) => values[i] > 0);
  const order = Uint16Array.from(above.sort((a, b) => values[b] - values[a]));
  const endsGroup = Uint8Array.from(order, (i, k) => (values[order[k + 1]] === values[i] ? 0 : 1));
  return { order, endsGroup };
}

/** Weighted ranks of the outcome, each times its weight: what the sign in any cell is made of. */
export class WeightedOutcome {
  private readonly order: Uint16Array;
  readonly weights: Int32Array;
  /** Of each patient the weight times twice the distance of the midrank from the middle. */
  readonly pulls: Int32Array;
  total = 0;

  constructor(private readonly outcomes: ArrayLike<number>) {
    const n = outcomes.length;
    this.order = Uint16Array.from({ length: n }, (_, i) => i).sort((a, b) => outcomes[a] - outcomes[b]);
    this.weights = new Int32Array(n);
    this.pulls = new Int32Array(n);
  }

  /** Ranks anew with these weights, whole numbers: how often each patient comes. */
  weigh(weightOf: (patient: number) => number): void {
    const { order, outcomes, weights, pulls } = this;
    const n = order.length;
    this.total = 0;
    for (let i = 0; i < n; i++) {
      weights[i] = weightOf(i);
      this.total += weights[i];
    }
    let before = 0;
    for (let from = 0; from < n; ) {
      let to = from;
      let weight = 0;
      for (; to < n && outcomes[order[to]] === outcomes[order[from]]; to++) weight += weights[order[to]];
      // Twice the midrank is 2 x before + weight + 1, twice the middle total + 1.
      const pull = 2 * before + weight - this.total;
      for (let k = from; k < to; k++) pulls[order[k]] = weights[order[k]] * pull;
      before += weight;
      from = to;
    }
  }

  /**
   * The sign of Spearman's correlation of a cell with the outcome: that of the covariance of the midranks, which is a whole
   * number here, so that no rounding decides. 0 where it is 0 or has no value.
   */
  signOf({ order, endsGroup }: SortedCell): number {
    const { weights, pulls } = this;
    let sum = 0;
    let above = 0;
    let pulled = 0;
    let weight = 0;
    let pull = 0;
    for (let k = 0; k < order.length; k++) {
      weight += weights[order[k]];
      pull += pulls[order[k]];
      if (endsGroup[k] === 0) continue;
      sum += (2 * above + weight) * pull;
      above += weight;
      pulled += pull;
      weight = 0;
      pull = 0;
    }
    // All pulls add up to 0, so what is left is that of the patients without an episode.
    sum -= (above + this.total) * pulled;
    // Ranks were counted from the highest value down. Plus 0, since minus 0 is another value.
    return -Math.sign(sum) + 0;
  }
}
