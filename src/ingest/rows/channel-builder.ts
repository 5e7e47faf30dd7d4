import type { Channel, ChannelKind, IcpSource } from '../../recording/channel.js';
import type { Interval } from '../../recording/interval.js';
import { maxGapMs, nominalIntervalMs, signalOf } from '../../recording/sampling.js';
import { firstAfter } from '../../recording/search.js';
import { GrowingFloats } from './growing.js';

/** Samples of one channel while its files are joined, in time order. */
export class ChannelBuilder {
  private times = new GrowingFloats();
  private values = new GrowingFloats();
  /** Times of rows in which the channel's cell was blank or held a missing mark. */
  readonly blankTimes = new GrowingFloats();
  decimals = 0;

  constructor(
    readonly kind: ChannelKind,
    readonly header: string,
    readonly source: IcpSource | null,
  ) {}

  /** A row's cell; NaN is a blank. A value that stands already is not taken twice. */
  add(time: number, value: number): void {
    if (Number.isNaN(value)) this.blankTimes.push(time);
    else if (this.times.last() !== time) {
      this.times.push(time);
      this.values.push(value);
    }
  }

  /**
   * The same of many rows of which each is later than the one before. A series that holds the whole channel is taken over
   * without a copy, so it must not change any more.
   */
  addAll(times: Float64Array, values: Float64Array): void {
    let blanks = 0;
    for (let i = 0; i < values.length; i++) if (Number.isNaN(values[i])) blanks++;
    const isFirst = this.times.length === 0;
    if (blanks === 0 && isFirst) {
      this.times = GrowingFloats.over(times);
      this.values = GrowingFloats.over(values);
      return;
    }
    const kept = new Float64Array(times.length - blanks);
    const keptTimes = new Float64Array(kept.length);
    let n = 0;
    for (let i = 0; i < times.length; i++) {
      if (Number.isNaN(values[i])) this.blankTimes.push(times[i]);
      else {
        keptTimes[n] = times[i];
        kept[n++] = values[i];
      }
    }
    if (isFirst) {
      this.times = GrowingFloats.over(keptTimes);
      this.values = GrowingFloats.over(kept);
      return;
    }
    const first = this.times.last() === keptTimes[0] ? 1 : 0;
    this.times.append(keptTimes.subarray(first));
    this.values.append(kept.subarray(first));
  }

  build(extent: Interval): Channel {
    const times = this.times.values();
    const nominal = nominalIntervalMs(times);
    return {
      kind: this.kind,
      header: this.header,
      source: this.source,
      derivedFrom: null,
      signal: signalOf(times, this.values.values(), nominal),
      nominalIntervalMs: nominal,
      decimals: this.decimals,
      blanks: this.blankStretches(extent, maxGapMs(Number.isNaN(nominal) ? 0 : nominal)),
    };
  }

  private blankStretches(extent: Interval, longestGapMs: number): Interval[] {
    const times = this.times.values();
    const blanks = this.blankTimes.values();
    const stretches: Interval[] = [];
    let start = extent.start;
    for (let i = 0; i <= times.length; i++) {
      const end = i < times.length ? times[i] : extent.end;
      const isBlank = end - start > longestGapMs && blanks[firstAfter(blanks, start - 1)] <= end;
      if (isBlank) stretches.push({ start, end });
      start = end;
    }
    return stretches;
  }
}
