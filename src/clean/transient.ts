import { z } from 'zod';
import type { Sighting, Watcher } from '../recording/waveform.js';
import { rule } from './rule.js';
import { waveformFinding } from './waveform-marks.js';

/**
 * An electrical spike, or a dropout, in a waveform: a jump from one sample to the next and back within 25 ms, of 10 mmHg or more in ICP
 * and 40 mmHg or more in arterial pressure; or such a jump to one value that stands still, as 0, and back within 1 s; beside a
 * hole one such jump is enough. An
 * upstroke rises as fast where samples are 20 ms apart, but no pulse is back within that time, and none stands still. Each second that holds one is removed as a whole. Only waveforms show it. Common practice, no source.
 */
export const transient = rule({
  name: 'transient',
  title: 'spike or dropout (waveform)',
  needsWaveform: true,
  parameters: z.strictObject({
    icpJumpMmHg: z.number().positive().default(10),
    abpJumpMmHg: z.number().positive().default(40),
    withinSeconds: z.number().positive().max(0.1).default(0.025),
    stillWithinSeconds: z.number().positive().max(10).default(1),
  }),
  find: (recording) => waveformFinding(recording, 'transient', 'removed'),
  watch: ({ kind }, { icpJumpMmHg, abpJumpMmHg, withinSeconds, stillWithinSeconds }, tell) =>
    new SpikeWatcher(
      kind === 'map' ? abpJumpMmHg : icpJumpMmHg,
      withinSeconds * 1000,
      stillWithinSeconds * 1000,
      tell,
    ),
});

/** Half of the jump parts what is still away from what is back. */
const BACK = 0.5;

/** Fewer samples of one value are no dropout where only one of its ends is seen. */
const LEAST_STILL = 3;

class SpikeWatcher implements Watcher {
  /** The sample before, or before the jump while one is open; NaN behind a hole. */
  private base = Number.NaN;
  /** The first and last sample that are away; NaN where none is. */
  private from = Number.NaN;
  private to = Number.NaN;
  private sign = 0;
  /** The value of the first sample that is away, while all others are the same; NaN once one is not. */
  private still = Number.NaN;
  /** How many samples are away, or stand at one value since the hole. */
  private count = 0;
  /** True while all samples since the last hole are the same, the first of them at `from`. */
  private isLead = false;

  constructor(
    private readonly jump: number,
    private readonly widestMs: number,
    private readonly widestStillMs: number,
    private readonly tell: (sighting: Sighting) => void,
  ) {}

  take(times: Float64Array, values: Float64Array, count: number): void {
    for (let i = 0; i < count; i++) {
      const [time, value] = [times[i], values[i]];
      const away = value - this.base;
      if (this.sign !== 0) {
        const isAway = this.sign * away >= BACK * this.jump;
        if (value !== this.still) this.still = Number.NaN;
        const widest = Number.isNaN(this.still) ? this.widestMs : this.widestStillMs;
        if (isAway && time - this.from <= widest) {
          this.to = time;
          this.count++;
          continue;
        }
        // What stays is a pulse or a step.
        if (!isAway) this.tell({ from: this.from, to: this.to });
        this.sign = 0;
      } else if (Math.abs(away) >= this.jump) {
        if (!this.isLead || !this.tellStill()) {
          this.open(time, value, away);
          continue;
        }
        this.isLead = false;
      } else if (this.isLead || Number.isNaN(this.base)) this.lead(time, value);
      this.base = value;
    }
  }

  part(): void {
    if (this.sign !== 0 && !Number.isNaN(this.still)) this.tellStill();
    this.base = Number.NaN;
    this.sign = 0;
    this.isLead = false;
  }

  finish(): void {
    this.part();
  }

  /** A jump away from the sample before. */
  private open(time: number, value: number, away: number): void {
    this.sign = Math.sign(away);
    this.from = time;
    this.to = time;
    this.still = value;
    this.count = 1;
    this.isLead = false;
  }

  /** One more sample behind a hole, while these are all the same. */
  private lead(time: number, value: number): void {
    if (Number.isNaN(this.base)) {
      this.from = time;
      this.count = 0;
      this.isLead = true;
    } else if (value !== this.base) this.isLead = false;
    this.to = time;
    this.count++;
  }

  /** Tells of samples of one value between a hole and a jump, where they are a dropout. */
  private tellStill(): boolean {
    const { from, to, count } = this;
    if (count < LEAST_STILL || to - from > this.widestStillMs) return false;
    this.tell({ from, to });
    return true;
  }
}
