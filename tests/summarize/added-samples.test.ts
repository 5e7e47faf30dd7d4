import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference } from '../../src/recording/difference.js';
import { type Interval, totalMs } from '../../src/recording/interval.js';
import { wholeOf } from '../../src/recording/pieces.js';
import { knownIntervals, type Signal } from '../../src/recording/signal.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { extremes, timeWeightedMean } from '../../src/summarize/mean.js';
import { timeWeightedPercentile } from '../../src/summarize/percentile.js';
import { hoursAbove, hoursBelow, hoursInBand, monitoredHours } from '../../src/summarize/time.js';
import { windowMeans } from '../../src/summarize/window-means.js';
import { withSamplesOnTheLines } from '../support/lines.js';
import { holds, intervals, pressures, signals } from '../support/properties.js';
import { T0 } from '../support/signals.js';

const addedTimes = fc
  .array(fc.noBias(fc.integer({ min: 0, max: 1_800_000 })), { minLength: 1, maxLength: 60 })
  .map((list) => list.map((ms) => T0 + ms));

/** Every measure with a plain number, of one signal over one window. */
const measures = (signal: Signal, window: Interval, u: number): Record<string, number> => ({
  monitored: monitoredHours(signal, window),
  above: hoursAbove(signal, window, u),
  below: hoursBelow(signal, window, u),
  within: hoursInBand(signal, window, { from: u - 7, to: u, closed: true }),
  doseAbove: doseAboveMmHgHours(signal, window, u),
  doseBelow: doseBelowMmHgHours(signal, window, u),
  mean: timeWeightedMean(signal, window),
  highest: extremes(signal, window).highest,
  lowest: extremes(signal, window).lowest,
});

describe('adding samples on the lines changes nothing', () => {
  it('in any sum, mean or extreme', () => {
    holds(
      fc.property(signals(), addedTimes, intervals(), pressures, (signal, added, window, u) => {
        const finer = measures(withSamplesOnTheLines(signal, added), window, u);
        for (const [name, value] of Object.entries(measures(signal, window, u))) {
          if (Number.isNaN(value)) expect(finer[name], name).toBeNaN();
          else expect(finer[name], name).toBeCloseTo(value, 8);
        }
      }),
    );
  });

  it('in a percentile', () => {
    holds(
      fc.property(signals(), addedTimes, fc.integer({ min: 0, max: 20 }), (signal, added, twentieths) => {
        const window = wholeOf(signal);
        fc.pre(monitoredHours(signal, window) > 0);
        const value = timeWeightedPercentile(signal, window, twentieths / 20);
        const finer = withSamplesOnTheLines(signal, added);
        // 1e-7 mmHg is where a slope counts as level.
        expect(timeWeightedPercentile(finer, window, twentieths / 20)).toBeCloseTo(value, 6);
      }),
    );
  });

  it('in 5-min means, neither in which windows count nor in what they hold', () => {
    holds(
      fc.property(signals(), addedTimes, intervals(), (signal, added, window) => {
        const means = windowMeans(signal, window);
        const finer = windowMeans(withSamplesOnTheLines(signal, added), window);
        expect(finer.map(({ start }) => start)).toEqual(means.map(({ start }) => start));
        means.forEach(({ mean }, i) => {
          expect(finer[i].mean).toBeCloseTo(mean, 8);
        });
      }),
    );
  });

  it('in what is known, nor in the difference of two signals', () => {
    holds(
      fc.property(signals(), signals(), addedTimes, pressures, (a, b, added, u) => {
        const finer = withSamplesOnTheLines(a, added);
        expect(totalMs(knownIntervals(finer))).toBe(totalMs(knownIntervals(a)));
        const window = wholeOf(a);
        const before = measures(difference(a, b), window, u);
        const after = measures(difference(finer, b), window, u);
        for (const [name, value] of Object.entries(before)) {
          if (Number.isNaN(value)) expect(after[name], name).toBeNaN();
          else expect(after[name], name).toBeCloseTo(value, 7);
        }
      }),
    );
  });
});
