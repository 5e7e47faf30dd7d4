import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, withoutIntervals } from '../../src/recording/signal.js';
import { extremes, timeWeightedMean } from '../../src/summarize/mean.js';
import { RAMP, STEP, seconds, sine, TRIANGLE } from '../support/shapes.js';
import { through } from '../support/signals.js';

const HOUR = seconds(0, 3600);

// All expected values are closed forms of elementary geometry.
describe('the time-weighted mean, against closed forms', () => {
  it('of a triangle is the middle of its height', () => {
    expect(timeWeightedMean(TRIANGLE, HOUR)).toBeCloseTo(22, 12);
  });
  it('of a step weighs each level by its time', () => {
    expect(timeWeightedMean(STEP, HOUR)).toBeCloseTo((12 * 1199 + 21 + 30 * 2400) / 3600, 12);
  });
  it('of whole periods of a sine is its middle', () => {
    const signal = sine(20, 10);
    expect(timeWeightedMean(signal, wholeOf(signal))).toBeCloseTo(20, 9);
  });
  it('weighs by time, not by samples: an hour at 10 mmHg in two samples against a minute at 40 in sixty', () => {
    const signal = through([
      [0, 10],
      [3600, 10],
      ...Array.from({ length: 60 }, (_, i) => [3601 + i, 40] as const),
    ]);
    expect(timeWeightedMean(signal, wholeOf(signal))).toBeCloseTo((10 * 3600 + 25 + 40 * 59) / 3660, 12);
  });
  it('of a window inside one piece is the value in its middle', () => {
    expect(timeWeightedMean(RAMP, seconds(1201, 1205))).toBeCloseTo(12.03, 12);
  });
  it('leaves unknown stretches out of both sum and length', () => {
    const holed = withoutIntervals(RAMP, [seconds(1800, 3600)]);
    expect(timeWeightedMean(holed, HOUR)).toBeCloseTo((0 + 17.4) / 2, 12);
  });
  it('is not a number where nothing is known', () => {
    expect(timeWeightedMean(emptySignal, HOUR)).toBeNaN();
    expect(timeWeightedMean(RAMP, seconds(3600, 7200))).toBeNaN();
  });
});

describe('the extremes', () => {
  it('are the highest and the lowest value on known pieces', () => {
    expect(extremes(TRIANGLE, HOUR)).toEqual({ highest: 34, lowest: 10 });
  });
  it('stand on the line where the window cuts a piece', () => {
    const { highest, lowest } = extremes(TRIANGLE, seconds(300, 900));
    expect(highest).toBeCloseTo(22, 12);
    expect(lowest).toBeCloseTo(14, 12);
  });
  it('leave a removed peak out', () => {
    const spike = through([
      [0, 10],
      [1, 11],
      [2, 90],
      [3, 12],
      [4, 10],
    ]);
    expect(extremes(withoutIntervals(spike, [seconds(2, 2)]), wholeOf(spike))).toEqual({
      highest: 12,
      lowest: 10,
    });
  });
  it('are not numbers where nothing is known', () => {
    expect(extremes(emptySignal, HOUR)).toEqual({ highest: Number.NaN, lowest: Number.NaN });
  });
  it('are one and the same on a flat signal', () => {
    expect(
      extremes(
        through([
          [0, 12],
          [9, 12],
        ]),
        HOUR,
      ),
    ).toEqual({ highest: 12, lowest: 12 });
  });
});
