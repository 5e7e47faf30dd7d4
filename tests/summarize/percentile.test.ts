import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, withoutIntervals } from '../../src/recording/signal.js';
import { timeWeightedPercentile } from '../../src/summarize/percentile.js';
import { RAMP, STEP, seconds, sine, TRIANGLE } from '../support/shapes.js';
import { everySeconds, through } from '../support/signals.js';

const HOUR = seconds(0, 3600);
const percentile = (signal: Parameters<typeof timeWeightedPercentile>[0], p: number, window = HOUR): number =>
  timeWeightedPercentile(signal, window, p);

// All expected values are closed forms: a line spends its time evenly over its values.
describe('time-weighted percentiles, against closed forms', () => {
  it('of a ramp and of a triangle lie at that share of the height', () => {
    for (const p of [0, 0.05, 0.25, 0.5, 0.75, 0.95, 1]) {
      expect(percentile(RAMP, p)).toBeCloseTo(36 * p, 9);
      expect(percentile(TRIANGLE, p)).toBeCloseTo(10 + 24 * p, 9);
    }
  });
  it('of a step stand on its levels, and on its flank in between', () => {
    expect(percentile(STEP, 0.3)).toBe(12);
    expect(percentile(STEP, 0.5)).toBe(30);
    expect(percentile(STEP, 1199.5 / 3600)).toBeCloseTo(21, 6);
  });
  it('of whole periods of a sine are mean + A sin(pi (p - 1/2))', () => {
    // Chords against arcs: 1-s samples are good to 1.4e-5 amplitudes.
    const signal = sine(20, 10);
    for (const p of [0.1, 0.5, 0.8]) {
      const expected = 20 + 10 * Math.sin(Math.PI * (p - 0.5));
      expect(Math.abs(percentile(signal, p, wholeOf(signal)) - expected)).toBeLessThan(1e-3);
    }
  });
  it('count a value that is held for long as often as it is held', () => {
    // 30 min at 10, then a ramp from 10 to 20 in 30 min: the median is the held value, the upper quartile 15.
    const signal = through([
      [0, 10],
      [1800, 10],
      [3600, 20],
    ]);
    expect(percentile(signal, 0.25)).toBe(10);
    expect(percentile(signal, 0.5)).toBe(10);
    expect(percentile(signal, 0.75)).toBeCloseTo(15, 9);
  });
  it('take the middle of a gap where the share falls between two held values', () => {
    const signal = { ...everySeconds(60, [10, 10, 30, 30]), known: Uint8Array.of(1, 0, 1, 0) };
    expect(percentile(signal, 0.5)).toBe(20);
    expect(percentile(signal, 0.49)).toBe(10);
    expect(percentile(signal, 0.51)).toBe(30);
  });
  it('leave unknown stretches out', () => {
    const holed = withoutIntervals(RAMP, [seconds(1800, 3600)]);
    expect(percentile(holed, 0.5)).toBeCloseTo(8.7, 9);
  });
  it('of a window inside one piece lie on its line', () => {
    expect(percentile(RAMP, 0.5, seconds(1201, 1205))).toBeCloseTo(12.03, 9);
  });
  it('are not numbers where nothing is known', () => {
    expect(percentile(emptySignal, 0.5)).toBeNaN();
    expect(percentile(RAMP, 0.5, seconds(3600, 7200))).toBeNaN();
  });
  it('stay true where two neighbouring values differ only by rounding', () => {
    // 73.1 - 5.4 and 67.7 are 1.4e-14 apart: a piece that is all but flat must not drown the others.
    const nearly = 73.1 - 5.4;
    expect(nearly).not.toBe(67.7);
    const signal = through([
      [0, 60],
      [600, 67.7],
      [1200, nearly],
      [1800, 67.7],
      [2400, nearly],
      [3600, 80],
    ]);
    // Sorted: 600 s from 60 to 67.7, 1800 s at 67.7, 1200 s from 67.7 to 80.
    expect(percentile(signal, 0.5)).toBeCloseTo(67.7, 9);
    expect(percentile(signal, 300 / 3600)).toBeCloseTo(60 + 7.7 / 2, 9);
    expect(percentile(signal, 3000 / 3600)).toBeCloseTo(67.7 + 12.3 / 2, 9);
    expect(percentile(signal, 3500 / 3600)).toBeCloseTo(67.7 + (12.3 * 11) / 12, 9);
  });
});
