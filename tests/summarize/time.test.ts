import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, withoutIntervals } from '../../src/recording/signal.js';
import { hoursAbove, hoursBelow, hoursInBand, monitoredHours } from '../../src/summarize/time.js';
import { RAMP, STEP, seconds, sine, TRIANGLE } from '../support/shapes.js';
import { everySeconds, T0, through } from '../support/signals.js';

const HOUR = seconds(0, 3600);

// All expected values are closed forms of elementary geometry; only rounding separates them from the code.
describe('time above, below and within, against closed forms', () => {
  it('a triangle from 10 to 34 mmHg is above 22 mmHg for half of its hour', () => {
    expect(hoursAbove(TRIANGLE, HOUR, 22)).toBeCloseTo(0.5, 12);
    expect(hoursBelow(TRIANGLE, HOUR, 22)).toBeCloseTo(0.5, 12);
  });
  it('a triangle is within a band for the share of its height that the band takes', () => {
    expect(hoursInBand(TRIANGLE, HOUR, { from: 16, to: 22, closed: true })).toBeCloseTo(6 / 24, 12);
    expect(hoursInBand(TRIANGLE, HOUR, { from: 28, to: 90, closed: false })).toBeCloseTo(6 / 24, 12);
  });
  it('a ramp from 0 to 36 mmHg is above 22 mmHg for 14/36 of its hour, whatever the samples', () => {
    expect(hoursAbove(RAMP, HOUR, 22)).toBeCloseTo(14 / 36, 12);
    expect(hoursBelow(RAMP, HOUR, 5)).toBeCloseTo(5 / 36, 12);
    expect(hoursInBand(RAMP, HOUR, { from: 5, to: 15, closed: true })).toBeCloseTo(10 / 36, 12);
  });
  it('a step crosses where its line does: 10/18 s before it arrives, from 12 past 20 to 30 mmHg', () => {
    expect(hoursAbove(STEP, HOUR, 20)).toBeCloseTo((2400 + 10 / 18) / 3600, 12);
  });
  it('a sine is above mean + c amplitudes for arccos(c)/pi of its time', () => {
    // The chords of 1-s samples lie under the arc by up to (pi/600)^2/2 = 1.4e-5 amplitudes: 1e-5 hours here.
    const signal = sine(20, 10);
    for (const c of [-0.5, 0, 0.2, 0.9]) {
      const expected = (2 * Math.acos(c)) / Math.PI;
      expect(Math.abs(hoursAbove(signal, wholeOf(signal), 20 + 10 * c) - expected)).toBeLessThan(1e-4);
    }
  });
});

describe('windows that cut pieces in the middle', () => {
  it('count only what lies inside, crossings exact', () => {
    // The ramp is at 22 mmHg after 2200 s and at 15 mmHg after 1500 s.
    expect(monitoredHours(RAMP, seconds(1234.5, 2345.25))).toBeCloseTo(1110.75 / 3600, 12);
    expect(hoursAbove(RAMP, seconds(1234.5, 2345.25), 22)).toBeCloseTo(145.25 / 3600, 12);
    expect(hoursBelow(RAMP, seconds(1234.5, 2345.25), 15)).toBeCloseTo(265.5 / 3600, 12);
    expect(hoursInBand(RAMP, seconds(1234.5, 2345.25), { from: 15, to: 22, closed: true })).toBeCloseTo(
      700 / 3600,
      12,
    );
  });
  it('count from the first known moment to the last where they are larger than the signal', () => {
    expect(monitoredHours(RAMP, seconds(-7200, 7200))).toBeCloseTo(1, 12);
  });
});

describe('unknown stretches', () => {
  const holed = withoutIntervals(RAMP, [seconds(2000, 2400)]);
  it('belong to no figure, and a removed sample takes its pieces with it', () => {
    // Samples at 2040 ... 2400 s go, and with them the pieces from 1980 to 2460 s.
    expect(monitoredHours(holed, HOUR)).toBeCloseTo((3600 - 480) / 3600, 12);
    expect(hoursAbove(holed, HOUR, 22)).toBeCloseTo((3600 - 2460) / 3600, 12);
    expect(hoursBelow(holed, HOUR, 22)).toBeCloseTo(1980 / 3600, 12);
  });
  it('are all there is of the empty signal and of a single sample', () => {
    for (const signal of [emptySignal, through([[0, 30]])]) {
      expect(monitoredHours(signal, HOUR)).toBe(0);
      expect(hoursAbove(signal, HOUR, 22)).toBe(0);
      expect(hoursBelow(signal, HOUR, 22)).toBe(0);
      expect(hoursInBand(signal, HOUR, { from: 5, to: 15, closed: true })).toBe(0);
    }
  });
});

describe('values that lie on an edge for a while', () => {
  const flat = everySeconds(60, Array(61).fill(22));
  const whole = { start: T0, end: T0 + 3_600_000 };
  it('are neither above nor below it', () => {
    expect(hoursAbove(flat, whole, 22)).toBe(0);
    expect(hoursBelow(flat, whole, 22)).toBe(0);
  });
  it('belong to the band that begins there, and to the one that ends there only if that is closed', () => {
    expect(hoursInBand(flat, whole, { from: 22, to: 30, closed: false })).toBe(1);
    expect(hoursInBand(flat, whole, { from: 10, to: 22, closed: true })).toBe(1);
    expect(hoursInBand(flat, whole, { from: 10, to: 22, closed: false })).toBe(0);
  });
});
