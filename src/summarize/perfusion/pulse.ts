import type { Channel } from '../../recording/channel.js';
import type { Interval } from '../../recording/interval.js';
import { type WithReasons, withReasons } from '../figure.js';
import { HOUR_MS } from '../hour.js';
import { gridIn } from './bin-grid.js';
import { binMeans } from './bin-means.js';
import { countKnown, meanKnown, valuesIn } from './index-figures.js';
import { MINUTE_MS, type MinuteCourse } from './minute-course.js';
import { movingCorrelation } from './moving-correlation.js';
import type { Sampled } from './reactivity.js';

/** The amplitude-pressure correlation is one of 40 windows of 10 s. */
const RAP_WINDOWS = 40;
const PULSE_MS = 10_000;

/** The pulse of ICP over a period, from a waveform export. */
export interface PulseFigures extends WithReasons<'meanAmplitudeMmHg' | 'meanRap'> {
  readonly knownHours: number;
  readonly rapHours: number;
  readonly rap: MinuteCourse;
}

/**
 * Mean amplitude of ICP's pulse, and RAP: Pearson's r of the amplitude and of mean ICP over 40 windows of 10 s, at the end
 * of each minute, from 20 windows on. Source: Czosnyka et al., J Neurol Neurosurg Psychiatry 2004;75:813-21 (value from
 * memory).
 *
 * @param pulse amplitude of the fundamental, mmHg, a value in 10 s; it counts where ICP is known for half of them
 */
export function pulseFigures(pulse: Channel, icp: Sampled, period: Interval): PulseFigures {
  const lead = RAP_WINDOWS * PULSE_MS;
  const grid = gridIn({ start: period.start - lead - MINUTE_MS, end: period.end }, PULSE_MS);
  const amplitude = binMeans(pulse.signal, pulse.nominalIntervalMs, grid);
  const means = binMeans(icp.signal, icp.intervalMs, grid);
  const whole = movingCorrelation(amplitude, means, grid, {
    pairs: RAP_WINDOWS,
    leastPairs: RAP_WINDOWS / 2,
  });
  const values = valuesIn(whole, period);
  const rapMinutes = countKnown(values);
  const inside = amplitude.filter(
    (_, k) => (grid.firstBin + k) * PULSE_MS >= period.start && !Number.isNaN(means[k]),
  );
  const mean = meanKnown(inside);
  const known = countKnown(inside);
  return {
    ...withReasons({
      meanAmplitudeMmHg: known === 0 ? { reason: 'no pulse was found in this time' } : mean,
      meanRap:
        rapMinutes === 0
          ? { reason: 'ICP and its pulse were not known together for long enough' }
          : meanKnown(values),
    }),
    knownHours: (known * PULSE_MS) / HOUR_MS,
    rapHours: (rapMinutes * MINUTE_MS) / HOUR_MS,
    rap: { firstEnd: whole.firstEnd + (whole.values.length - values.length) * MINUTE_MS, values },
  };
}
