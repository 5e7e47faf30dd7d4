import { firstAfter, firstAtOrAfter } from './search.js';
import { placesOf } from './value-places.js';

/** A bag of numbers that come and go, with its median. */
export interface MedianWindow {
  /** Takes in the value at this index of the series. */
  add(i: number): void;
  remove(i: number): void;
  /** NaN where the window is empty. */
  median(): number;
}

/**
 * For series of few different values, as monitors write them: counts by rank, and a pointer to the median that moves a
 * little with each value. Takes constant time a step, as long as ranks near the median are in use.
 */
export class CountedWindow implements MedianWindow {
  private readonly counts: Uint32Array;
  private size = 0;
  /** Rank of the lower median, and how many values in the window are under it. */
  private rank = 0;
  private under = 0;

  constructor(
    private readonly ranks: ArrayLike<number>,
    private readonly distinct: Float64Array,
  ) {
    this.counts = new Uint32Array(distinct.length);
  }

  add(i: number): void {
    const rank = this.ranks[i];
    this.counts[rank]++;
    this.size++;
    if (rank < this.rank) this.under++;
  }

  remove(i: number): void {
    const rank = this.ranks[i];
    this.counts[rank]--;
    this.size--;
    if (rank < this.rank) this.under--;
  }

  median(): number {
    if (this.size === 0) return Number.NaN;
    const { counts, distinct } = this;
    const middle = (this.size - 1) >> 1;
    while (this.under > middle) this.under -= counts[--this.rank];
    while (this.under + counts[this.rank] <= middle) this.under += counts[this.rank++];
    const lower = distinct[this.rank];
    if (this.size % 2 === 1 || this.under + counts[this.rank] > middle + 1) return lower;
    let next = this.rank + 1;
    while (counts[next] === 0) next++;
    return (lower + distinct[next]) / 2;
  }
}

/** For series of any values: the window as a sorted list. */
export class SortedWindow implements MedianWindow {
  private sorted = new Float64Array(256);
  private size = 0;

  constructor(private readonly values: Float64Array) {}

  add(i: number): void {
    if (this.size === this.sorted.length) {
      const larger = new Float64Array(this.size * 2);
      larger.set(this.sorted);
      this.sorted = larger;
    }
    const at = firstAfter(this.sorted.subarray(0, this.size), this.values[i]);
    this.sorted.copyWithin(at + 1, at, this.size);
    this.sorted[at] = this.values[i];
    this.size++;
  }

  remove(i: number): void {
    const at = firstAtOrAfter(this.sorted.subarray(0, this.size), this.values[i]);
    this.sorted.copyWithin(at, at + 1, this.size);
    this.size--;
  }

  median(): number {
    if (this.size === 0) return Number.NaN;
    const middle = this.size >> 1;
    return this.size % 2 === 1 ? this.sorted[middle] : (this.sorted[middle - 1] + this.sorted[middle]) / 2;
  }
}

/** More different values than this, and counting by rank has to step over too many that are not in use. */
const MOST_COUNTED = 4096;

/** The window that suits a series. */
export function windowFor(values: Float64Array): MedianWindow {
  const { distinct, places } = placesOf(values);
  return distinct.length > MOST_COUNTED ? new SortedWindow(values) : new CountedWindow(places, distinct);
}
