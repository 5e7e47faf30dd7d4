import { z } from 'zod';
import type { Sighting, Watcher } from '../recording/waveform.js';
import { RailWatch } from './rail-watch.js';
import { rule } from './rule.js';
import { waveformFinding } from './waveform-marks.js';

/** A channel that hardly ever changes is taken to change in one of ten seconds. */
const LEAST_LIVELY_SHARE = 0.1;

/**
 * A frozen waveform: the same value for 3 s or more, where chance would give so many seconds without a change less than
 * once in a million: (1 - c)^k < 1e-6 with c the share of seconds elsewhere that hold a change, and k the seconds. A
 * pulse changes each second; in whole mmHg and with a small pulse it may not, and then a longer stretch is asked for. What
 * is held at the end of the scale is `clippedWave`, not frozen. Removed. Only waveforms show it. Common practice, no source.
 */
export const frozenWave = rule({
  name: 'frozenWave',
  title: 'frozen (waveform)',
  needsWaveform: true,
  parameters: z.strictObject({
    minSeconds: z.number().positive().default(3),
    chance: z.number().positive().max(1).default(1e-6),
  }),
  find: (recording) => waveformFinding(recording, 'frozenWave', 'removed'),
  watch: (_, { minSeconds, chance }, tell) => new FrozenWatcher(minSeconds * 1000, chance, tell),
});

interface StillRun {
  readonly from: number;
  readonly to: number;
  readonly value: number;
}

class FrozenWatcher implements Watcher {
  private readonly runs: StillRun[] = [];
  private readonly rails = [new RailWatch(1), new RailWatch(-1)];
  private value = Number.NaN;
  private from = Number.NaN;
  private last = Number.NaN;
  /** The second at hand, and whether its value changed. */
  private second = Number.NaN;
  private hasChanged = false;
  private seconds = 0;
  private lively = 0;

  constructor(
    private readonly leastMs: number,
    private readonly chance: number,
    private readonly tell: (sighting: Sighting) => void,
  ) {}

  take(times: Float64Array, values: Float64Array, count: number): void {
    for (const rail of this.rails) rail.take(times, values, count);
    for (let i = 0; i < count; i++) {
      const time = times[i];
      const second = Math.floor(time / 1000);
      if (second !== this.second) this.closeSecond(second);
      if (values[i] !== this.value) {
        this.closeRun();
        // The first sample behind a hole changes nothing.
        if (!Number.isNaN(this.value)) this.hasChanged = true;
        this.value = values[i];
        this.from = time;
      }
      this.last = time;
    }
  }

  part(): void {
    this.closeRun();
    this.value = Number.NaN;
    for (const rail of this.rails) rail.part();
  }

  finish(): void {
    this.closeRun();
    this.closeSecond(Number.NaN);
    const rails = this.rails.flatMap((rail) => rail.finish() ?? []);
    for (const { from, to, value } of this.runs) {
      const seconds = (to - from) / 1000;
      const elsewhere = this.seconds - Math.floor(seconds);
      const share = elsewhere > 0 ? Math.min(1, this.lively / elsewhere) : 0;
      const isChance = (1 - Math.max(LEAST_LIVELY_SHARE, share)) ** seconds >= this.chance;
      if (!isChance && !rails.some((rail) => rail.value === value)) this.tell({ from, to, isStill: true });
    }
  }

  private closeSecond(next: number): void {
    if (!Number.isNaN(this.second)) {
      this.seconds++;
      if (this.hasChanged) this.lively++;
    }
    this.second = next;
    this.hasChanged = false;
  }

  private closeRun(): void {
    if (this.last - this.from >= this.leastMs)
      this.runs.push({ from: this.from, to: this.last, value: this.value });
    this.from = Number.NaN;
  }
}
