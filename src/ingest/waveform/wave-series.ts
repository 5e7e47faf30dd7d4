import type { Watch } from '../../recording/waveform.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { ChannelColumn } from '../columns/columns.js';
import { GrowingFloats } from '../rows/growing.js';
import { RowSeries } from '../rows/row-series.js';
import type { RowSetAside } from '../rows/set-aside.js';
import { HeldRow, isJump, LONGEST_JUMP_MS } from './held-row.js';
import { LocalRate } from './local-rate.js';
import { LostTime } from './lost-time.js';
import { WINDOW_MS } from './pulse-window.js';
import { Pulses } from './pulses.js';
import { RowsAside } from './rows-aside.js';
import { SampleBlock } from './sample-block.js';
import { SECOND_MS, secondOf } from './second.js';
import { WaveChannel } from './wave-channel.js';
import { WaveClock } from './wave-clock.js';
import type { WaveResult } from './wave-result.js';
import type { WaveformPlan } from './waveform-plan.js';

/** A number beside a waveform counts in a second where at least this share of its cells is there. */
const ENOUGH = 0.5;

const OUT_OF_ORDER =
  'earlier than the row before it, and rows of a waveform are read in the order of their times';
const WRONG_STAMP = `no row stands within ${LONGEST_JUMP_MS / 1000} s of its time: the time seems to be wrong`;
const SORT = 'Export the rows in the order of their times, or sort the file.';

/**
 * The rows of a waveform file, which are reduced to means over whole UTC seconds while they come: what is kept is a row
 * a second, at the second's start. A row that does not follow the one before is set aside, since nothing is kept that it
 * could be sorted into; neither is one whose time jumps ahead where the next row does not go on from there.
 */
export class WaveSeries extends RowSeries {
  /** What the waveform showed beside its means; null until finished. */
  result: WaveResult | null = null;
  private readonly put: RowsAside;
  private readonly waves: readonly (WaveChannel | null)[];
  private readonly waveClock: WaveClock;
  private readonly pulses = new Pulses();
  private readonly rate: LocalRate;
  /** Where the rate of the rows changes, and to how many a second. */
  private readonly changes: { readonly time: number; readonly perSecond: number }[] = [];
  private readonly rowCounts = new GrowingFloats();
  private readonly sums: Float64Array;
  private readonly counts: Float64Array;
  private readonly means: Float64Array;
  /** The row before. */
  private readonly before: Float64Array;
  private last = Number.NEGATIVE_INFINITY;
  /** A row that jumped ahead. */
  private readonly held: HeldRow;
  private rowCount = 0;
  private readonly lostOrder = new LostTime();
  private readonly lostSparse = new LostTime();
  /** The second at hand: its start and end, the times of its rows, and the line of the first. */
  private second = Number.NaN;
  private secondEnd = Number.NEGATIVE_INFINITY;
  private readonly rowTimes = new SampleBlock();
  private firstLine = 0;
  private window = Number.NaN;

  constructor(
    file: string,
    columns: readonly ChannelColumn[],
    private readonly clock: ZoneClock,
    private readonly plan: WaveformPlan,
    watch: Watch,
  ) {
    super(file, columns, clock);
    this.put = new RowsAside(file);
    this.waveClock = new WaveClock(clock);
    this.rate = new LocalRate(plan.intervalMs);
    this.waves = plan.columns.map(
      ({ wave, perSecond }) => wave && new WaveChannel(wave, perSecond ?? this.rate.perSecond, watch),
    );
    this.sums = new Float64Array(columns.length);
    this.counts = new Float64Array(columns.length);
    this.means = new Float64Array(columns.length);
    this.before = new Float64Array(columns.length);
    this.held = new HeldRow(columns.length);
  }

  override get aside(): readonly RowSetAside[] {
    return this.put.entries;
  }

  override rowsAt(index: number): number {
    return this.rowCounts.at(index);
  }

  override instantAt(localMs: number, offset: number | null): number {
    return offset === null ? this.waveClock.next(localMs, this.last) : localMs - offset;
  }

  override push(time: number, line: number, values: Float64Array): void {
    this.rowCount++;
    if (this.held.isHeld) this.judge(time);
    if (isJump(this.last, time)) this.held.hold(time, line, values);
    else this.takeRow(time, line, values);
  }

  /** Takes the row that jumped ahead where the next one goes on from there, or sets it aside. */
  private judge(next: number): void {
    const { held } = this;
    held.isHeld = false;
    if (held.isConfirmedBy(next, this.last)) this.takeRow(held.time, held.line, held.values);
    else this.put.add(held.line, 1, 'order', WRONG_STAMP, CORRECT_TIME);
  }

  private takeRow(time: number, line: number, values: Float64Array): void {
    if (!(time > this.last)) {
      this.setAside(time, line, values);
      return;
    }
    if (time >= this.secondEnd) this.startSecond(secondOf(time), line);
    this.last = time;
    this.rowTimes.push(time, 0);
    const { sums, counts, waves, before } = this;
    for (let c = 0; c < sums.length; c++) {
      const value = values[c];
      before[c] = value;
      if (Number.isNaN(value)) continue;
      sums[c] += value;
      counts[c]++;
      waves[c]?.push(time, value);
    }
  }

  override finish(): void {
    if (this.held.isHeld) this.takeRow(this.held.time, this.held.line, this.held.values);
    this.closeSecond();
    this.closeWindow();
    for (const wave of this.waves) wave?.finish();
    super.finish();
    // A mean resolves more than its samples do.
    for (const channel of this.channels) channel.decimals = Math.min(2, channel.decimals + 1);
    this.result = this.resultOf();
  }

  private setAside(time: number, line: number, values: Float64Array): void {
    if (time < this.last) {
      this.put.add(line, 1, 'order', OUT_OF_ORDER, SORT);
      this.lostOrder.addRow(time, line, this.plan.intervalMs);
    } else if (this.before.every((value, c) => Object.is(value, values[c])))
      this.put.add(line, 1, 'repeat', 'same time as the row before it, and nothing new');
    else this.put.add(line, 1, 'conflict', 'same time as the row before it, with other values', SAME_TIME);
  }

  private startSecond(second: number, line: number): void {
    this.closeSecond();
    const window = secondOf(second, WINDOW_MS);
    if (window !== this.window) {
      this.closeWindow();
      this.window = window;
      for (const wave of this.waves) wave?.openWindow(window);
    }
    this.second = second;
    this.secondEnd = second + SECOND_MS;
    this.firstLine = line;
  }

  private closeSecond(): void {
    const { sums, counts, means, second } = this;
    const { times, count } = this.rowTimes;
    if (count === 0) return;
    const isCounted = this.rate.coversHalf(times, count);
    for (let c = 0; c < means.length; c++) {
      const isEnough = this.isEnough(c, count);
      means[c] = isEnough ? sums[c] / counts[c] : Number.NaN;
      this.waves[c]?.closeSecond(second, isCounted && isEnough);
    }
    if (isCounted) {
      super.push(second, this.firstLine, means);
      this.rowCounts.push(count);
    } else {
      const most = Number(this.rate.perSecond.toFixed(1));
      this.put.add(
        this.firstLine,
        count,
        'sparse',
        `in a second with less than half of its ${most} rows`,
        APART,
      );
      this.lostSparse.add(count, SECOND_MS, this.firstLine);
    }
    if (this.rate.follow(times, count)) this.changes.push({ time: second, perSecond: this.rate.perSecond });
    sums.fill(0);
    counts.fill(0);
    this.rowTimes.count = 0;
  }

  /** True where a channel's cells in the second at hand are enough for a mean. */
  private isEnough(c: number, rows: number): boolean {
    const wave = this.waves[c];
    if (wave) return wave.isEnough;
    const { columns, intervalMs } = this.plan;
    // A number in each row comes less often where rows do.
    const share = Math.min(1, (rows * intervalMs) / SECOND_MS);
    return this.counts[c] > 0 && this.counts[c] >= ENOUGH * share * (columns[c].perSecond ?? 0);
  }

  private closeWindow(): void {
    if (Number.isNaN(this.window)) return;
    this.pulses.add(this.window, this.icpWave?.piece() ?? null, this.abpWave?.piece() ?? null);
  }

  /** The ICP whose pulse is measured: that of the probe, where a drain is read too. */
  private get icpWave(): WaveChannel | null {
    return this.waveOf('icp') ?? this.waveOf('icpDrain');
  }

  private get abpWave(): WaveChannel | null {
    return this.waveOf('map');
  }

  private waveOf(kind: WaveChannel['kind']): WaveChannel | null {
    return this.waves.find((wave) => wave?.kind === kind) ?? null;
  }

  private resultOf(): WaveResult {
    const { icpWave, abpWave, waveClock } = this;
    const waves = this.waves.flatMap((wave) => (wave && !wave.isNumber ? [wave] : []));
    const unused = (): true => true;
    const isMarked = {
      icp: icpWave && !icpWave.isNumber ? icpWave.isMarked() : unused,
      abp: abpWave && !abpWave.isNumber ? abpWave.isMarked() : unused,
    };
    return {
      file: this.file,
      samplesPerSecond: Number((SECOND_MS / this.plan.intervalMs).toFixed(1)),
      changes: this.changes.map(({ time, perSecond }) => ({
        time: this.clock.format(time),
        perSecond: Number(perSecond.toFixed(1)),
      })),
      kinds: waves.map(({ kind }) => kind),
      marks: waves.flatMap((wave) => wave.marksOf()),
      pulses: this.pulses.without((channel, from, to) => isMarked[channel](from, to)),
      ranges: abpWave?.ranges() ?? NO_RANGES,
      lost: { rows: this.rowCount, order: this.lostOrder, sparse: this.lostSparse },
      doubtful: Number.isNaN(waveClock.doubtful) ? null : this.clock.format(waveClock.doubtful),
    };
  }
}

const NO_RANGES = {
  times: new Float64Array(0),
  highest: new Float64Array(0),
  lowest: new Float64Array(0),
};

const APART = 'Export without holes; what comes at another rate goes into a file of its own.';
const CORRECT_TIME = 'Correct the time, or leave the row out.';
const SAME_TIME = 'Export each row with a time of its own, to the millisecond.';
