import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, withoutIntervals } from '../../src/recording/signal.js';
import { timeWeightedMean } from '../../src/summarize/mean.js';
import { windowMeans } from '../../src/summarize/window-means.js';
import { RAMP, seconds, TRIANGLE } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';

const HOUR = seconds(0, 3600);
const minute = (n: number): number => T0 + n * 60_000;

describe('5-min means', () => {
  it('of a ramp are the values in the middle of their windows', () => {
    const means = windowMeans(RAMP, HOUR);
    expect(means.map(({ start }) => start)).toEqual(Array.from({ length: 56 }, (_, m) => minute(m)));
    means.forEach(({ mean }, m) => {
      expect(mean).toBeCloseTo((m + 2.5) * 0.6, 12);
    });
  });
  it('of a triangle are highest around its top: 34 mmHg less a quarter of what 5 min rise', () => {
    const highest = Math.max(...windowMeans(TRIANGLE, HOUR).map(({ mean }) => mean));
    // Windows start on whole minutes, so the best one reaches 2 min on one side of the top and 3 on the other.
    const perMinute = 24 / 30;
    expect(highest).toBeCloseTo(34 - (perMinute * (2 * 1 + 3 * 1.5)) / 5, 12);
  });
  it('are those of the measure itself over the same window', () => {
    const values = Array.from({ length: 400 }, (_, i) => 15 + 10 * Math.sin(i / 9) + (i % 5));
    const signal = everySeconds(7, values);
    const means = windowMeans(signal, wholeOf(signal));
    expect(means.length).toBe(42);
    for (const { start, mean } of means) {
      expect(mean).toBeCloseTo(timeWeightedMean(signal, { start, end: start + 300_000 }), 9);
    }
  });
  it('start on whole UTC minutes and lie inside the window, wherever that begins', () => {
    const means = windowMeans(RAMP, seconds(61, 661));
    expect(means.map(({ start }) => start)).toEqual([2, 3, 4, 5, 6].map(minute));
  });
  it('need half of their window to be known: 2 min 30 s is enough, one second less is not', () => {
    const values = Array(301).fill(20);
    const signal = everySeconds(1, values);
    const keep = (known: number) => withoutIntervals(signal, [seconds(known + 1, 300)]);
    expect(windowMeans(keep(150), seconds(0, 300))).toEqual([{ start: T0, mean: 20 }]);
    expect(windowMeans(keep(149), seconds(0, 300))).toEqual([]);
  });
  it('of other lengths can be asked for', () => {
    expect(windowMeans(RAMP, HOUR, 30).length).toBe(31);
    expect(windowMeans(RAMP, HOUR, 60)[0].mean).toBeCloseTo(18, 12);
    expect(windowMeans(RAMP, HOUR, 61)).toEqual([]);
  });
  it('are none where nothing is known', () => {
    expect(windowMeans(emptySignal, HOUR)).toEqual([]);
  });
});
