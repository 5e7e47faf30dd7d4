import { SampleBlock } from './sample-block.js';
import { SECOND_MS } from './second.js';

/** Pulses are measured over windows of this length, which start on its multiples. */
export const WINDOW_MS = 10_000;
const SECONDS = WINDOW_MS / SECOND_MS;
/** So many seconds in a row without a hole or artifact are enough. */
const LEAST_SECONDS = 8;

/** Evenly spaced samples without a hole or artifact. */
export interface Piece {
  readonly values: Float64Array;
  readonly intervalMs: number;
  /** The seconds that they fill, from the first to the last one's start. */
  readonly from: number;
  readonly to: number;
}

/** The samples of one channel in the window at hand. */
export class PulseWindow {
  private readonly samples = new SampleBlock();
  /** Where each second's samples begin, and end. */
  private readonly begin = new Int32Array(SECONDS);
  private readonly end = new Int32Array(SECONDS);
  private readonly isGood = new Uint8Array(SECONDS);
  /** A second that does not follow the one before. */
  private readonly isParted = new Uint8Array(SECONDS);
  private start = Number.NaN;

  open(start: number): void {
    this.start = start;
    this.samples.count = 0;
    this.isGood.fill(0);
    this.isParted.fill(0);
  }

  /** Takes the samples of a second that has enough of them. */
  add(second: number, times: Float64Array, values: Float64Array, count: number, isParted: boolean): void {
    const s = (second - this.start) / SECOND_MS;
    this.begin[s] = this.samples.count;
    for (let i = 0; i < count; i++) this.samples.push(times[i], values[i]);
    this.end[s] = this.samples.count;
    this.isGood[s] = 1;
    this.isParted[s] = isParted ? 1 : 0;
  }

  /** Artifact was seen from one instant to another. */
  spoil(from: number, to: number): void {
    const first = Math.max(0, Math.floor((from - this.start) / SECOND_MS));
    const last = Math.min(SECONDS - 1, Math.floor((to - this.start) / SECOND_MS));
    for (let s = first; s <= last; s++) this.isGood[s] = 0;
  }

  /** The longest piece of the window that pulses can be measured on; null where none is long enough. */
  piece(): Piece | null {
    let [best, length] = [0, 0];
    for (let from = 0; from < SECONDS; from++) {
      if (!this.isGood[from]) continue;
      let to = from + 1;
      while (to < SECONDS && this.isGood[to] && !this.isParted[to]) to++;
      if (to - from > length) [best, length] = [from, to - from];
    }
    if (length < LEAST_SECONDS) return null;
    const [a, b] = [this.begin[best], this.end[best + length - 1]];
    const { times, values } = this.samples;
    return {
      values: values.subarray(a, b),
      intervalMs: (times[b - 1] - times[a]) / (b - 1 - a),
      from: this.start + best * SECOND_MS,
      to: this.start + (best + length - 1) * SECOND_MS,
    };
  }
}
