import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Interval } from '../../src/recording/interval.js';
import { wholeOf } from '../../src/recording/pieces.js';
import type { Signal } from '../../src/recording/signal.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { extremes, timeWeightedMean } from '../../src/summarize/mean.js';
import { hoursAbove, hoursBelow, hoursInBand, monitoredHours } from '../../src/summarize/time.js';
import { cutAt } from '../support/lines.js';
import { holds, intervals, pressures, signals } from '../support/properties.js';

/** Everything that adds up over time, of one signal over one window. */
const additive = (signal: Signal, window: Interval, u: number): number[] => {
  const hours = monitoredHours(signal, window);
  return [
    hours,
    hoursAbove(signal, window, u),
    hoursBelow(signal, window, u),
    hoursInBand(signal, window, { from: u - 7, to: u, closed: true }),
    doseAboveMmHgHours(signal, window, u),
    doseBelowMmHgHours(signal, window, u),
    hours === 0 ? 0 : hours * timeWeightedMean(signal, window),
  ];
};
const expectSum = (parts: readonly number[][], whole: readonly number[]): void => {
  whole.forEach((value, i) => {
    expect(parts.reduce((sum, part) => sum + part[i], 0)).toBeCloseTo(value, 8);
  });
};

describe('splitting changes nothing', () => {
  it('a window cut anywhere, inside pieces too, adds up to the whole', () => {
    holds(
      fc.property(
        signals(),
        intervals(),
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 4 }),
        pressures,
        (signal, window, shares, u) => {
          const cuts = [...shares]
            .sort((a, b) => a - b)
            .map((share) => window.start + share * (window.end - window.start));
          const edges = [window.start, ...cuts, window.end];
          const parts = edges.slice(1).map((end, i) => additive(signal, { start: edges[i], end }, u));
          expectSum(parts, additive(signal, window, u));
        },
      ),
    );
  });

  it('a recording cut inside a linear piece adds up to the whole', () => {
    holds(
      fc.property(
        signals(),
        fc.noBias(fc.integer({ min: 1, max: 999 })),
        pressures,
        (signal, permille, u) => {
          const whole = wholeOf(signal);
          const at = Math.round(whole.start + (permille / 1000) * (whole.end - whole.start));
          const [left, right] = cutAt(signal, at);
          expectSum([additive(left, whole, u), additive(right, whole, u)], additive(signal, whole, u));
        },
      ),
    );
  });

  it('the extremes of the whole are those of its parts', () => {
    holds(
      fc.property(
        signals(),
        intervals(),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (signal, window, share) => {
          fc.pre(monitoredHours(signal, window) > 0);
          const at = Math.round(window.start + share * (window.end - window.start));
          const parts = [
            { start: window.start, end: at },
            { start: at, end: window.end },
          ].filter((part) => monitoredHours(signal, part) > 0);
          const found = parts.map((part) => extremes(signal, part));
          const whole = extremes(signal, window);
          expect(Math.max(...found.map(({ highest }) => highest))).toBeCloseTo(whole.highest, 9);
          expect(Math.min(...found.map(({ lowest }) => lowest))).toBeCloseTo(whole.lowest, 9);
        },
      ),
    );
  });
});
