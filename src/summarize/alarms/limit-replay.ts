import type { Interval } from '../../recording/interval.js';

/** A millionth of a second: crossings are computed in floating point on times of 10^12 ms. */
const TOLERANCE_MS = 1e-3;

/** What the delays of one limit are counted into. */
export interface LimitCounts {
  /** By delay. */
  readonly alarms: Uint32Array;
  readonly sustained: Uint32Array;
  /** By `delay * episodes + episode`: milliseconds UTC of the notice, NaN until there is one. */
  readonly noticedAt: Float64Array;
}

/** The delays that are tried on a limit, and what their alarms are held against. */
export interface LimitTask {
  /** Rising, milliseconds. */
  readonly delaysMs: readonly number[];
  readonly resetMs: number;
  /** In time order. */
  readonly episodes: readonly Interval[];
}

/**
 * All delays of one limit at once, told of each crossing as it comes. Stretches past the limit that no reset and nothing
 * unknown parts are a chain, which raises at most one alarm: at a delay, in the first of its stretches that is long
 * enough, and it ends with the chain. So of a chain only those stretches count that are longer than all before them. The
 * alarms are those of `replay`, and what they caught is what `caught` says.
 */
export class LimitReplay {
  private isPast = false;
  /** Of the stretch past the limit that runs, or ran last. */
  private start = Number.NaN;
  /** Where the last stretch of the chain ended; NaN where there is no chain. */
  private chainEnd = Number.NaN;
  /** Of the chain: stretches longer than all before them. */
  private readonly starts: number[] = [];
  private readonly lengths: number[] = [];
  private firstEpisode = 0;

  constructor(
    private readonly task: LimitTask,
    private readonly counts: LimitCounts,
  ) {}

  /** The signal passes the limit, or comes to be known past it. */
  up(at: number): void {
    this.isPast = true;
    // It only touched the limit: the stretch goes on.
    if (at === this.chainEnd) return;
    if (at - this.chainEnd >= this.task.resetMs - TOLERANCE_MS) this.close();
    this.start = at;
  }

  /** The signal is back. */
  down(at: number): void {
    this.isPast = false;
    const length = at - this.start;
    if (length <= 0) return;
    this.chainEnd = at;
    const { starts, lengths } = this;
    if (lengths.length > 0 && length <= lengths[lengths.length - 1]) return;
    starts.push(this.start);
    lengths.push(length);
  }

  /** Nothing is known from here on. */
  lose(at: number): void {
    if (this.isPast) this.down(at);
    this.close();
  }

  private close(): void {
    const { starts, lengths, chainEnd } = this;
    if (lengths.length === 0) return;
    const { delaysMs, episodes } = this.task;
    while (this.firstEpisode < episodes.length && episodes[this.firstEpisode].end <= starts[0])
      this.firstEpisode++;
    let i = 0;
    for (let delay = 0; delay < delaysMs.length; delay++) {
      while (i < lengths.length && lengths[i] < delaysMs[delay] - TOLERANCE_MS) i++;
      if (i === lengths.length) break;
      this.raise(delay, starts[i] + delaysMs[delay], chainEnd);
    }
    starts.length = 0;
    lengths.length = 0;
    this.chainEnd = Number.NaN;
  }

  private raise(delay: number, onset: number, end: number): void {
    const { episodes } = this.task;
    const { alarms, sustained, noticedAt } = this.counts;
    alarms[delay]++;
    let isSustained = false;
    for (let k = this.firstEpisode; k < episodes.length && episodes[k].start < end; k++) {
      if (onset >= episodes[k].end) continue;
      isSustained = true;
      const place = delay * episodes.length + k;
      if (Number.isNaN(noticedAt[place])) noticedAt[place] = Math.max(episodes[k].start, onset);
    }
    if (isSustained) sustained[delay]++;
  }
}
