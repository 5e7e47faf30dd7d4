/** First and last index of a span, both inside. */
export interface Span {
  readonly from: number;
  readonly to: number;
}

/** Rounding of sums of milliseconds: a condition that is met exactly has to count as met. */
export const SLACK = 1e-3;

/** What a link of a chain adds to the two conditions of a span, and where it starts and ends. */
export interface Link {
  readonly start: number;
  readonly end: number;
  /** Of this link and of what separates it from the one before: both sums over a span must not be negative. */
  readonly own: readonly [number, number];
  readonly separator: readonly [number, number];
}

/** Smallest value by rank, for prefixes of ranks (a Fenwick tree of minima). */
class PrefixMinimum {
  private readonly tree: Float64Array;
  constructor(size: number) {
    this.tree = new Float64Array(size + 1).fill(Number.POSITIVE_INFINITY);
  }
  lower(rank: number, value: number): void {
    for (let i = rank + 1; i < this.tree.length; i += i & -i) this.tree[i] = Math.min(this.tree[i], value);
  }
  upTo(rank: number): number {
    let smallest = Number.POSITIVE_INFINITY;
    for (let i = rank + 1; i > 0; i -= i & -i) smallest = Math.min(smallest, this.tree[i]);
    return smallest;
  }
}

/**
 * The longest span for the first sum alone, in n steps; null where there is none, and of several the earliest. Only an
 * opening that is lower than all before can begin it, and the further a closing lies the better.
 */
function longestForFirst(
  links: readonly Link[],
  opening: readonly [number, number][],
  closing: readonly [number, number][],
): Span | null {
  const lowest: number[] = [];
  opening.forEach(([sum], i) => {
    if (lowest.length === 0 || sum < opening[lowest[lowest.length - 1]][0]) lowest.push(i);
  });
  let best: Span | null = null;
  let bestLength = -1;
  // From the last closing back: an opening that one reached needs no nearer one, nor do later openings.
  for (let to = links.length - 1; to >= 0 && lowest.length > 0; to--) {
    while (lowest.length > 0 && opening[lowest[lowest.length - 1]][0] <= closing[to][0]) {
      const from = lowest[lowest.length - 1];
      lowest.pop();
      if (from > to) continue;
      const length = links[to].end - links[from].start;
      if (length > bestLength || (length === bestLength && best && from < best.from)) {
        best = { from, to };
        bestLength = length;
      }
    }
  }
  return best;
}

/**
 * The longest span of a chain of links over which neither sum is negative; null where no link does alone.
 * Takes n log n steps, since a noisy signal near the threshold makes chains of many thousand links.
 */
export function longestSpan(links: readonly Link[]): Span | null {
  const n = links.length;
  // A span i..j fulfils both where closing[j] >= opening[i] in both sums.
  const opening: [number, number][] = [];
  const closing: [number, number][] = [];
  let a = 0;
  let b = 0;
  for (const { own, separator } of links) {
    a += separator[0];
    b += separator[1];
    opening.push([a, b]);
    a += own[0];
    b += own[1];
    closing.push([a + SLACK, b + SLACK]);
  }
  const first = longestForFirst(links, opening, closing);
  if (first === null || closing[first.to][1] >= opening[first.from][1]) return first;
  const ranks = [...new Set(opening.map(([, second]) => second))].sort((x, y) => x - y);
  const rankOf = (value: number): number => {
    let low = 0;
    let high = ranks.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (ranks[middle] <= value) low = middle + 1;
      else high = middle;
    }
    return low - 1;
  };
  const byOpening = [...opening.keys()].sort((i, j) => opening[i][0] - opening[j][0]);
  const byClosing = [...closing.keys()].sort((i, j) => closing[i][0] - closing[j][0]);
  const earliest = new PrefixMinimum(ranks.length);
  let best: Span | null = null;
  let bestLength = -1;
  let next = 0;
  for (const to of byClosing) {
    while (next < n && opening[byOpening[next]][0] <= closing[to][0]) {
      const i = byOpening[next++];
      earliest.lower(rankOf(opening[i][1]), i);
    }
    const from = earliest.upTo(rankOf(closing[to][1]));
    if (from > to) continue;
    const length = links[to].end - links[from].start;
    if (length > bestLength || (length === bestLength && best && from < best.from)) {
      best = { from, to };
      bestLength = length;
    }
  }
  return best;
}
