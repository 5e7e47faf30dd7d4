import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { withoutIntervals } from '../../src/recording/signal.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { timeWeightedMean } from '../../src/summarize/mean.js';
import { timeWeightedPercentile } from '../../src/summarize/percentile.js';
import { hoursAbove, hoursBelow, hoursInBand, monitoredHours } from '../../src/summarize/time.js';
import { holds, intervals, pressures, signals } from '../support/properties.js';

/** Random signals with gaps, of which random intervals were taken, and a window. */
const cases = fc.record({
  signal: fc
    .tuple(signals(), fc.array(intervals(200_000), { maxLength: 3 }))
    .map(([signal, marks]) => withoutIntervals(signal, marks)),
  window: intervals(),
  low: pressures,
  high: pressures,
});

// The identities of the design, section 3, on random signals with gaps and marks. Sums of up to 100 terms of
// hours: 1e-9 is far above their rounding and far below any figure.
describe('the identities of the one signal model', () => {
  it('below + within + above a band is the monitored time', () => {
    holds(
      fc.property(cases, ({ signal, window, low, high }) => {
        const [from, to] = [Math.min(low, high), Math.max(low, high)];
        const sum =
          hoursBelow(signal, window, from) +
          hoursInBand(signal, window, { from, to, closed: true }) +
          hoursAbove(signal, window, to);
        expect(sum).toBeCloseTo(monitoredHours(signal, window), 9);
      }),
    );
  });

  it('bands that are open above and touch each other fill the time between', () => {
    holds(
      fc.property(cases, ({ signal, window }) => {
        const sum =
          hoursBelow(signal, window, 5) +
          hoursInBand(signal, window, { from: 5, to: 15, closed: false }) +
          hoursInBand(signal, window, { from: 15, to: 22, closed: false }) +
          hoursInBand(signal, window, { from: 22, to: 60, closed: true }) +
          hoursAbove(signal, window, 60);
        expect(sum).toBeCloseTo(monitoredHours(signal, window), 9);
      }),
    );
  });

  it('dose above u is the integral over v from u upward of the time above v', () => {
    holds(
      fc.property(cases, ({ signal, window, low: u }) => {
        // Between neighbouring sample values the time above v is a straight line in v, so middles integrate exactly;
        // the values where the window cuts a piece are bends too.
        const ends = [signal.values, [u, valueAt(signal, window.start), valueAt(signal, window.end)]];
        const bends = [...new Set(ends.flatMap((list) => [...list]))]
          .filter((v) => v >= u)
          .sort((a, b) => a - b);
        let integral = 0;
        for (let i = 1; i < bends.length; i++) {
          const middle = (bends[i - 1] + bends[i]) / 2;
          integral += hoursAbove(signal, window, middle) * (bends[i] - bends[i - 1]);
        }
        expect(doseAboveMmHgHours(signal, window, u)).toBeCloseTo(integral, 8);
      }),
    );
  });

  it('dose above less dose below is the mean less u, times the monitored time', () => {
    holds(
      fc.property(cases, ({ signal, window, low: u }) => {
        const hours = monitoredHours(signal, window);
        fc.pre(hours > 0);
        const difference = doseAboveMmHgHours(signal, window, u) - doseBelowMmHgHours(signal, window, u);
        expect(difference).toBeCloseTo((timeWeightedMean(signal, window) - u) * hours, 8);
      }),
    );
  });

  it('at least the share p of the time lies at or below the percentile, and at least 1 - p at or above it', () => {
    holds(
      fc.property(cases, fc.integer({ min: 0, max: 20 }), ({ signal, window }, twentieths) => {
        const hours = monitoredHours(signal, window);
        fc.pre(hours > 0);
        const p = twentieths / 20;
        const value = timeWeightedPercentile(signal, window, p);
        // A value a hair beside a long flat piece is not on it: look 1e-6 mmHg to both sides.
        expect(hours - hoursAbove(signal, window, value + 1e-6)).toBeGreaterThanOrEqual(p * hours - 1e-9);
        expect(hours - hoursBelow(signal, window, value - 1e-6)).toBeGreaterThanOrEqual(
          (1 - p) * hours - 1e-9,
        );
      }),
    );
  });

  it('marking more can only take time away', () => {
    holds(
      fc.property(cases, intervals(300_000), ({ signal, window, low: u }, mark) => {
        const less = withoutIntervals(signal, [mark]);
        expect(monitoredHours(less, window)).toBeLessThanOrEqual(monitoredHours(signal, window));
        expect(hoursAbove(less, window, u)).toBeLessThanOrEqual(hoursAbove(signal, window, u) + 1e-12);
        expect(doseAboveMmHgHours(less, window, u)).toBeLessThanOrEqual(
          doseAboveMmHgHours(signal, window, u) + 1e-12,
        );
      }),
    );
  });

  it('a window larger than the signal sees all of it', () => {
    holds(
      fc.property(signals(), pressures, (signal, u) => {
        const whole = wholeOf(signal);
        const larger = { start: whole.start - 5000, end: whole.end + 7000 };
        expect(doseAboveMmHgHours(signal, larger, u)).toBe(doseAboveMmHgHours(signal, whole, u));
      }),
    );
  });
});

/** x at an instant, wherever a piece holds it, known or not; the first value where none does. */
function valueAt({ times, values }: { times: Float64Array; values: Float64Array }, t: number): number {
  for (let i = 0; i + 1 < times.length; i++) {
    if (times[i] <= t && t <= times[i + 1]) {
      return values[i] + ((values[i + 1] - values[i]) * (t - times[i])) / (times[i + 1] - times[i]);
    }
  }
  return values[0];
}
