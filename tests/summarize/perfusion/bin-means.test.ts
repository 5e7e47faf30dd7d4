import { describe, expect, it } from 'vitest';
import { signalOf } from '../../../src/recording/sampling.js';
import { withoutIntervals } from '../../../src/recording/signal.js';
import { gridIn } from '../../../src/summarize/perfusion/bin-grid.js';
import { binMeans } from '../../../src/summarize/perfusion/bin-means.js';
import { RAMP, seconds } from '../../support/shapes.js';
import { everySeconds, T0, through } from '../../support/signals.js';

const grid = (from: number, to: number, binSeconds = 10) => gridIn(seconds(from, to), binSeconds * 1000);

describe('means over bins', () => {
  it('lie on UTC multiples, also where the recording begins between them', () => {
    const ramp = everySeconds(
      1,
      Array.from({ length: 41 }, (_, i) => i),
      T0 + 3000,
    );
    // Known from second 3 to 43, the value is the second less 3.
    expect([...binMeans(ramp, 1000, grid(0, 50))]).toEqual([3.5, 12, 22, 32, NaN]);
    expect([...binMeans(ramp, 1000, grid(10, 30))]).toEqual([12, 22]);
  });

  it('need half of a bin', () => {
    const ramp = everySeconds(
      1,
      Array.from({ length: 41 }, (_, i) => i),
    );
    // What is left of the second bin is 10 to 15 and then 10 to 14.
    const half = withoutIntervals(ramp, [seconds(16, 22)]);
    expect([...binMeans(half, 1000, grid(0, 30))]).toEqual([5, 12.5, 26.5]);
    const less = withoutIntervals(ramp, [seconds(15, 22)]);
    expect([...binMeans(less, 1000, grid(0, 30))]).toEqual([5, NaN, 26.5]);
  });

  it('are the samples themselves where a channel comes once a bin', () => {
    const ten = everySeconds(10, [10, 20, 60, 30, 40]);
    expect([...binMeans(ten, 10_000, grid(0, 50))]).toEqual([10, 20, 60, 30, 40]);
    // A sample that was removed takes the pieces at its sides, and its neighbours stay.
    const removed = withoutIntervals(ten, [seconds(20, 20)]);
    expect([...binMeans(removed, 10_000, grid(0, 50))]).toEqual([10, 20, NaN, 30, 40]);
    expect([...binMeans(RAMP, 60_000, grid(0, 180, 60))]).toEqual([0, 0.6, 1.2]);
  });

  it('are not read off a line between samples that are further apart', () => {
    const uneven = through([
      [0, 10],
      [5, 10],
      [10, 10],
      [60, 40],
      [65, 40],
      [70, 40],
    ]);
    expect([...binMeans(uneven, 5000, grid(0, 70))]).toEqual([10, NaN, NaN, NaN, NaN, NaN, 40]);
  });

  it('are those of its own rate in each stretch, where the rate changes', () => {
    // A sample a second for 5 min, then one in 10 s, which stands for its bin.
    const fine = Array.from({ length: 300 }, (_, s) => [s, s % 10] as const);
    const coarse = Array.from({ length: 60 }, (_, k) => [300 + 10 * k, k % 2 === 0 ? 10 : 30] as const);
    const times = Float64Array.from([...fine, ...coarse], ([s]) => T0 + s * 1000);
    const signal = signalOf(
      times,
      Float64Array.from([...fine, ...coarse], ([, x]) => x),
    );
    const means = [...binMeans(signal, 1000, grid(0, 800))];
    expect(means.slice(0, 3).every((x) => Math.abs(x - 4.5) < 0.1)).toBe(true);
    expect(means.slice(40, 44)).toEqual([10, 30, 10, 30]);
    expect(means.slice(60, 64)).toEqual([10, 30, 10, 30]);
  });

  it('do not lose bins to stamps that scatter around their borders', () => {
    const stamps = Array.from({ length: 200 }, (_, k) => 10 * k + [0, -0.4, 0.3, -0.2][k % 4]);
    const times = Float64Array.from(stamps, (s) => T0 + 10_000 + s * 1000);
    const values = Float64Array.from(stamps, (_, k) => k);
    const means = [...binMeans(signalOf(times, values), 10_000, grid(10, 1990))];
    expect(means.filter(Number.isNaN)).toEqual([]);
    expect(new Set(means).size).toBe(means.length);
  });

  it('are none of a channel without samples', () => {
    expect([...binMeans(everySeconds(1, []), Number.NaN, grid(0, 30))]).toEqual([NaN, NaN, NaN]);
  });
});
