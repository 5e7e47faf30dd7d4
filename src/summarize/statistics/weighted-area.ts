import { insist } from './estimate.js';

/**
 * The area under the ROC curve with each patient counted so many times, in one pass over values that are sorted once: the
 * area of `areaUnderCurve` of as many copies. With `Resampler` it makes the bootstrap of many features cheap.
 */
export class WeightedArea {
  private readonly order: Uint32Array;
  private readonly values: Float64Array;
  private readonly events: Uint8Array;

  /**
   * @param values finite
   * @param events true or 1 of each who has it
   */
  constructor(values: ArrayLike<number>, events: ArrayLike<number | boolean>) {
    insist(values.length === events.length, 'lists of one length');
    insist(Array.from(values).every(Number.isFinite), 'finite values');
    this.order = Uint32Array.from(values, (_, i) => i).sort((a, b) => values[a] - values[b]);
    this.values = Float64Array.from(this.order, (i) => values[i]);
    this.events = Uint8Array.from(this.order, (i) => Number(events[i]));
  }

  /**
   * @param counts how often each patient counts, from `offset` on
   * @returns null where nobody with the event counts, or nobody without it
   */
  area(counts: ArrayLike<number>, offset = 0): number | null {
    const { order, values, events } = this;
    const n = order.length;
    let [having, free, halfPairs] = [0, 0, 0];
    for (let i = 0; i < n; ) {
      const value = values[i];
      let [here, others] = [0, 0];
      for (; i < n && values[i] === value; i++) {
        const count = counts[offset + order[i]];
        if (events[i] === 1) here += count;
        else others += count;
      }
      halfPairs += here * (2 * free + others);
      having += here;
      free += others;
    }
    return having > 0 && free > 0 ? halfPairs / (2 * having * free) : null;
  }
}
