import type { Interval } from '../recording/interval.js';

/** A run at the rail is at least so long; shorter ones are the peak of a pulse in coarse steps. */
const SHORTEST_MS = 40;
const LEAST_SAMPLES = 3;
/** A rail is met beat by beat. */
const LEAST_VISITS = 10;
/** All that lies beyond is shown at the rail: so many times as many samples stand there as at the value next to it; at the top of a sine in coarse steps it is 2.4. */
const PILED_UP = 5;
const JOINED_MS = 1000;

/** The end of the scale of a channel, and the stretches in which the waveform ran into it. */
export interface Rail {
  readonly value: number;
  readonly stretches: readonly Interval[];
}

/**
 * Looks for the value that a waveform cannot pass, while it goes by: its highest or lowest one, where it is flat again and
 * again and more samples stand at it than next to it. Keeps the two outermost values and stretches at the outermost
 * one, those closer than a second as one.
 */
export class RailWatch {
  private extreme = Number.NaN;
  private atExtreme = 0;
  private next = Number.NaN;
  private atNext = 0;
  private stretches: { start: number; end: number }[] = [];
  private visits = 0;
  /** The run at the outermost value: its first sample, how many, and the last. */
  private from = Number.NaN;
  private samples = 0;
  private to = Number.NaN;

  /** @param side 1 for the highest value, -1 for the lowest; values beyond the limits are not looked at */
  constructor(
    private readonly side: 1 | -1,
    private readonly limits: readonly [number, number] = [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
  ) {}

  take(times: Float64Array, values: Float64Array, count: number): void {
    const { side } = this;
    const [lowest, highest] = this.limits;
    for (let i = 0; i < count; i++) {
      const value = values[i];
      if (value === this.extreme) {
        this.atExtreme++;
        if (this.samples++ === 0) this.from = times[i];
        this.to = times[i];
        continue;
      }
      if (this.samples > 0) this.part();
      if (value < lowest || value > highest) continue;
      if (!(side * value < side * this.extreme)) this.begin(value, times[i]);
      else if (value === this.next) this.atNext++;
      else if (!(side * value < side * this.next)) {
        this.next = value;
        this.atNext = 1;
      }
    }
  }

  /** The run ends: behind a hole, or at another value. */
  part(): void {
    const { from, to, samples, stretches } = this;
    this.samples = 0;
    if (samples < LEAST_SAMPLES || to - from < SHORTEST_MS) return;
    this.visits++;
    const last = stretches.at(-1);
    if (last && from - last.end <= JOINED_MS) last.end = to;
    else stretches.push({ start: from, end: to });
  }

  /** The rail, once all samples came; null where the channel has none. */
  finish(): Rail | null {
    this.part();
    const isRail = this.visits >= LEAST_VISITS && this.atExtreme >= PILED_UP * this.atNext;
    return isRail ? { value: this.extreme, stretches: this.stretches } : null;
  }

  /** A value further out than all before. */
  private begin(value: number, time: number): void {
    this.next = this.extreme;
    this.atNext = this.atExtreme;
    this.extreme = value;
    this.atExtreme = 1;
    this.stretches = [];
    this.visits = 0;
    this.from = time;
    this.to = time;
    this.samples = 1;
  }
}
