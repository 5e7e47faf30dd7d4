import { z } from 'zod';
import type { Sighting, Watcher } from '../recording/waveform.js';
import { samplesRange } from './outside-range.js';
import { RailWatch } from './rail-watch.js';
import { rule } from './rule.js';
import { waveformFinding } from './waveform-marks.js';

/**
 * A waveform that runs into the end of the scale, so that the tops or bottoms of its pulses are flat and the mean of the
 * second is wrong: a highest or lowest value that is met again and again, for 40 ms or more each time, and at which at
 * least five times as many samples stand as at the value next to it. Suspect: at the upper end the pressure is higher
 * than is shown, so it stays in, and burden is at least what is shown; at the lower end it is left out. Only waveforms
 * show it. Common practice, no source.
 */
export const clippedWave = rule({
  name: 'clippedWave',
  title: 'cut off at the end of the scale (waveform)',
  needsWaveform: true,
  parameters: z.strictObject({}),
  find: (recording) => waveformFinding(recording, 'clippedWave', 'suspect'),
  watch: ({ kind }, _, tell) => new ClippedWatcher(samplesRange(kind), tell),
});

class ClippedWatcher implements Watcher {
  private readonly top: RailWatch;
  private readonly bottom: RailWatch;

  constructor(
    limits: readonly [number, number],
    private readonly tell: (sighting: Sighting) => void,
  ) {
    this.top = new RailWatch(1, limits);
    this.bottom = new RailWatch(-1, limits);
  }

  take(times: Float64Array, values: Float64Array, count: number): void {
    this.top.take(times, values, count);
    this.bottom.take(times, values, count);
  }

  part(): void {
    this.top.part();
    this.bottom.part();
  }

  finish(): void {
    for (const { start, end } of this.top.finish()?.stretches ?? [])
      this.tell({ from: start, to: end, direction: 'up' });
    for (const { start, end } of this.bottom.finish()?.stretches ?? [])
      this.tell({ from: start, to: end, direction: 'down' });
  }
}
