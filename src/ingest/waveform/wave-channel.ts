import { type Interval, unite } from '../../recording/interval.js';
import { firstAfter } from '../../recording/search.js';
import {
  PULSES_PER_SECOND,
  RULES_PER_SECOND,
  type Sighting,
  type Watch,
  type Watcher,
  type WaveformMark,
  type WaveKind,
} from '../../recording/waveform.js';
import { GrowingFloats } from '../rows/growing.js';
import { KeptMarks } from './kept-marks.js';
import { HOLE_INTERVALS, LocalRate } from './local-rate.js';
import { type Piece, PulseWindow } from './pulse-window.js';
import { SampleBlock } from './sample-block.js';
import { SECOND_MS } from './second.js';

/** A number that a monitor writes beside a waveform, or with each of its rows, changes no more often than this a second. */
const MOST_CHANGES_OF_A_NUMBER = 2;

/** Highest and lowest values over two seconds, at the start of the second one. */
export interface Ranges {
  readonly times: Float64Array;
  readonly highest: Float64Array;
  readonly lowest: Float64Array;
}

/** One waveform while it is read: hands its samples to the watchers, and keeps what is known of each second. */
export class WaveChannel {
  private readonly rate: LocalRate;
  private readonly block = new SampleBlock();
  private readonly watchers: readonly Watcher[];
  private readonly marks = new KeptMarks();
  private readonly window = new PulseWindow();
  private last = Number.NEGATIVE_INFINITY;
  /** How many samples of the block the watchers have seen. */
  private watched = 0;
  private isPartedBefore = false;
  private isPartedInside = false;
  private mostChanges = 0;
  /** Told since the second at hand began, which is added to the window only when it is over. */
  private readonly seenIn: Interval[] = [];
  private readonly seconds = new GrowingFloats();
  private readonly highest = new GrowingFloats();
  private readonly lowest = new GrowingFloats();

  constructor(
    readonly kind: WaveKind,
    perSecond: number,
    watch: Watch,
  ) {
    this.rate = new LocalRate(SECOND_MS / perSecond);
    this.watchers = watch({ kind, intervalMs: SECOND_MS / perSecond }, (rule, sighting) =>
      this.see(rule, sighting),
    );
  }

  push(time: number, value: number): void {
    if (time - this.last > HOLE_INTERVALS * this.rate.intervalMs) this.part();
    this.last = time;
    this.block.push(time, value);
  }

  openWindow(start: number): void {
    this.window.open(start);
  }

  /** True where the samples of the second at hand cover half of it. */
  get isEnough(): boolean {
    return this.block.count > 0 && this.rate.coversHalf(this.block.times, this.block.count);
  }

  /** The second that begins there is over; it counts where enough of its rows came. */
  closeSecond(second: number, isCounted: boolean): void {
    this.hand();
    const { times, values, count } = this.block;
    if (isCounted && count > 0) {
      this.keepRange(second);
      // Samples at another rate cannot stand in one piece with those before them.
      if (this.rate.isWhole(count) && !this.isPartedInside) {
        this.window.add(second, times, values, count, this.isPartedBefore);
        for (const { start, end } of this.seenIn) this.window.spoil(start, end);
      }
    }
    this.rate.follow(times, count);
    this.seenIn.length = 0;
    this.block.count = 0;
    this.watched = 0;
    this.isPartedBefore = false;
    this.isPartedInside = false;
  }

  /** What pulses can be measured on in the window at hand. */
  piece(): Piece | null {
    return this.isNumber || this.rate.perSecond < PULSES_PER_SECOND ? null : this.window.piece();
  }

  finish(): void {
    for (const watcher of this.watchers) watcher.finish();
  }

  /** True where the column held a number with each row up to now, and no waveform. */
  get isNumber(): boolean {
    return this.mostChanges <= MOST_CHANGES_OF_A_NUMBER;
  }

  /** What watchers saw; nothing where there was no waveform to look at. */
  marksOf(): WaveformMark[] {
    return this.isNumber ? [] : this.marks.of(this.kind);
  }

  /** True where artifact was seen between two seconds, both included; asked for once all samples came. */
  isMarked(): (from: number, to: number) => boolean {
    return touching(this.marks.seconds);
  }

  /** Highest and lowest values over pairs of seconds that follow each other, without those that hold wrong samples. */
  ranges(): Ranges {
    const { seconds, highest, lowest } = this;
    const isFalse = touching(this.marks.falseSeconds);
    const [times, high, low] = [new GrowingFloats(), new GrowingFloats(), new GrowingFloats()];
    for (let i = 1; i < seconds.length && !this.isNumber; i++) {
      const [before, time] = [seconds.at(i - 1), seconds.at(i)];
      if (time - before !== SECOND_MS || isFalse(before, time)) continue;
      times.push(time);
      high.push(Math.max(highest.at(i - 1), highest.at(i)));
      low.push(Math.min(lowest.at(i - 1), lowest.at(i)));
    }
    return { times: times.values(), highest: high.values(), lowest: low.values() };
  }

  private see(rule: string, sighting: Sighting): void {
    this.marks.add(rule, sighting);
    this.window.spoil(sighting.from, sighting.to);
    this.seenIn.push({ start: sighting.from, end: sighting.to });
  }

  private part(): void {
    this.hand();
    for (const watcher of this.watchers) watcher.part();
    if (this.block.count === 0) this.isPartedBefore = true;
    else this.isPartedInside = true;
  }

  /** Hands the watchers what they have not seen. */
  private hand(): void {
    const { block, watched } = this;
    if (block.count === watched) return;
    const times = watched === 0 ? block.times : block.times.subarray(watched);
    const values = watched === 0 ? block.values : block.values.subarray(watched);
    for (const watcher of this.watchers) watcher.take(times, values, block.count - watched);
    this.watched = block.count;
  }

  private keepRange(second: number): void {
    const { values, count } = this.block;
    let highest = values[0];
    let lowest = values[0];
    let changes = 0;
    for (let i = 1; i < count; i++) {
      const value = values[i];
      if (value > highest) highest = value;
      if (value < lowest) lowest = value;
      if (value !== values[i - 1]) changes++;
    }
    if (changes > this.mostChanges) this.mostChanges = changes;
    // Between samples further apart the top of a pulse does not show.
    if (this.rate.perSecond < RULES_PER_SECOND) return;
    this.seconds.push(second);
    this.highest.push(highest);
    this.lowest.push(lowest);
  }
}

/** Tells whether a stretch shares an instant with one of the intervals. */
function touching(intervals: readonly Interval[]): (from: number, to: number) => boolean {
  const united = unite(intervals);
  const starts = Float64Array.from(united, ({ start }) => start);
  return (from, to) => {
    const before = firstAfter(starts, to) - 1;
    return before >= 0 && united[before].end >= from;
  };
}
