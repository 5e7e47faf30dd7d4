import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, withoutIntervals } from '../../src/recording/signal.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { RAMP, STEP, seconds, sine, TRIANGLE } from '../support/shapes.js';
import { everySeconds, through } from '../support/signals.js';

const HOUR = seconds(0, 3600);

// All expected values are closed forms of elementary geometry; only rounding separates them from the code.
describe('pressure-time dose, against closed forms', () => {
  it('of a triangle with its top 12 mmHg over the threshold for half an hour is 3 mmHg.h', () => {
    expect(doseAboveMmHgHours(TRIANGLE, HOUR, 22)).toBeCloseTo((12 * 0.5) / 2, 12);
  });
  it('below a floor that the triangle passes twice is two corners', () => {
    expect(doseBelowMmHgHours(TRIANGLE, HOUR, 22)).toBeCloseTo(2 * ((12 * 0.25) / 2), 12);
  });
  it('of a ramp over 22 mmHg is (14 mmHg x 14/36 h)/2, whatever the samples', () => {
    expect(doseAboveMmHgHours(RAMP, HOUR, 22)).toBeCloseTo((14 * 14) / 36 / 2, 12);
    expect(doseBelowMmHgHours(RAMP, HOUR, 22)).toBeCloseTo((22 * 22) / 36 / 2, 12);
  });
  it('of a step is its rectangle and the corner of its flank', () => {
    expect(doseAboveMmHgHours(STEP, HOUR, 20)).toBeCloseTo((10 * 2400 + (10 * (10 / 18)) / 2) / 3600, 12);
  });
  it('of a sine over mean + c amplitudes is 2A/w (sqrt(1 - c^2) - c arccos c) a period', () => {
    // Chords against arcs: the relative error of 1-s samples is (pi/600)^2/3 = 1e-5.
    const signal = sine(20, 10);
    for (const c of [0, 0.2, 0.7]) {
      const aPeriod = ((2 * 10) / (2 * Math.PI)) * (600 / 3600) * (Math.sqrt(1 - c * c) - c * Math.acos(c));
      const dose = doseAboveMmHgHours(signal, wholeOf(signal), 20 + 10 * c);
      expect(Math.abs(dose / (12 * aPeriod) - 1)).toBeLessThan(1e-4);
      expect(doseBelowMmHgHours(signal, wholeOf(signal), 20 - 10 * c)).toBeCloseTo(dose, 9);
    }
  });
});

describe('pressure-time dose', () => {
  it('counts only what lies in a window that cuts pieces in the middle', () => {
    // The ramp passes 22 mmHg after 2200 s and gains 0.01 mmHg a second.
    expect(doseAboveMmHgHours(RAMP, seconds(1234.5, 2345.25), 22)).toBeCloseTo(
      (145.25 * 1.4525) / 2 / 3600,
      12,
    );
  });
  it('counts nothing over a hole, and is not drawn over it', () => {
    const holed = withoutIntervals(TRIANGLE, [seconds(1800, 1800)]);
    expect(doseAboveMmHgHours(holed, HOUR, 22)).toBe(0);
  });
  it('is nothing on the threshold itself, and nothing without a signal', () => {
    expect(doseAboveMmHgHours(everySeconds(60, Array(61).fill(22)), HOUR, 22)).toBe(0);
    expect(doseBelowMmHgHours(everySeconds(60, Array(61).fill(22)), HOUR, 22)).toBe(0);
    expect(doseAboveMmHgHours(emptySignal, HOUR, 22)).toBe(0);
    expect(doseAboveMmHgHours(through([[0, 99]]), HOUR, 22)).toBe(0);
  });
  it('of a constant 10 mmHg over the threshold for an hour is 10 mmHg.h', () => {
    expect(doseAboveMmHgHours(everySeconds(1, Array(3601).fill(32)), HOUR, 22)).toBeCloseTo(10, 9);
  });
});
