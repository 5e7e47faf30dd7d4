import { describe, expect, it } from 'vitest';
import { rhythmAround } from '../../src/clean/rhythm.js';
import { everySeconds, T0 } from '../support/signals.js';

const MIDDLE = T0 + 600_000;
const overTwentyMinutes = (level: (second: number) => number) =>
  rhythmAround(
    everySeconds(
      1,
      Array.from({ length: 1201 }, (_, s) => level(s)),
    ),
    MIDDLE,
  );

describe('the rhythm around a time', () => {
  it.each([30, 45, 60, 90, 120])('is strong in waves with a period of %i s', (period) => {
    expect(overTwentyMinutes((s) => 15 + 10 * Math.sin((2 * Math.PI * s) / period))).toBeGreaterThan(0.9);
  });
  it('is weak where coughs come by chance', () => {
    const coughs = [310, 397, 408, 600, 655, 741, 880];
    expect(overTwentyMinutes((s) => (coughs.some((c) => s >= c && s < c + 7) ? 40 : 12))).toBeLessThan(0.5);
  });
  it('is weak in a steady rise', () => {
    expect(overTwentyMinutes((s) => 10 + s / 60)).toBeLessThan(0.5);
  });
  it('cannot be told where nothing changes, or nothing was recorded', () => {
    expect(overTwentyMinutes(() => 12)).toBe(-1);
    expect(rhythmAround(everySeconds(1, []), MIDDLE)).toBe(-1);
  });
});
