import { Series } from 'danfojs-node';
import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { extremes, timeWeightedMean } from '../../src/summarize/mean.js';
import { timeWeightedPercentile } from '../../src/summarize/percentile.js';
import { everySeconds } from '../support/signals.js';

// Outside source: danfojs-node 1.2.0, whose Series knows nothing of time. On samples at one interval the integral of
// the lines is the sum of the middles of the pieces, so plain statistics of the middles have to agree (to rounding).
const HOURS = 4;
const values = Array.from(
  { length: HOURS * 3600 + 1 },
  (_, i) =>
    Math.round((18 + 7 * Math.sin(i / 611) + 4 * Math.sin(i / 47) + (((i * 7919) % 101) - 50) / 40) * 10) /
    10,
);
const signal = everySeconds(1, values);
const whole = wholeOf(signal);
const middles = values.slice(1).map((value, i) => (value + values[i]) / 2);

describe('measures on evenly spaced samples, against a data frame library', () => {
  it('the mean is the mean of the middles', () => {
    expect(timeWeightedMean(signal, whole)).toBeCloseTo(new Series(middles).mean(), 9);
  });
  it('the dose is the sum of the middles over a threshold that is never crossed', () => {
    const over = new Series(middles).sub(2).sum() / 3600;
    expect(doseAboveMmHgHours(signal, whole, 2)).toBeCloseTo(over, 8);
    const under = -new Series(middles).sub(60).sum() / 3600;
    expect(doseBelowMmHgHours(signal, whole, 60)).toBeCloseTo(under, 8);
  });
  it('the extremes are those of the samples', () => {
    const series = new Series(values);
    expect(extremes(signal, whole)).toEqual({ highest: series.max(), lowest: series.min() });
  });
  it('the median is that of twenty values a piece, to 0.01 mmHg', () => {
    // A line is drawn by 20 points a piece; points are at most 0.1 mmHg apart, and many lie around the median.
    const dense = values
      .slice(1)
      .flatMap((value, i) =>
        Array.from({ length: 20 }, (_, k) => values[i] + ((value - values[i]) * (k + 0.5)) / 20),
      );
    const median = new Series(dense).median();
    expect(Math.abs(timeWeightedPercentile(signal, whole, 0.5) - median)).toBeLessThan(0.01);
  });
});
