import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keptLevel } from '../../src/clean/kept-level.js';
import { levels } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const kept = (values: readonly number[], seconds: number, interval = 1) => [
  ...keptLevel(everySeconds(interval, values), seconds),
];

describe('the level that a signal keeps', () => {
  it('cuts off what is shorter, and leaves what is as long', () => {
    expect(kept(levels([50, 10], [20, 40], [50, 10]), 20)).toEqual(levels([120, 10]));
    expect(kept(levels([50, 10], [21, 40], [50, 10]), 20)).toEqual(levels([50, 10], [21, 40], [50, 10]));
  });
  it('is the signal itself on a slope and on a step', () => {
    const slope = levels([100, (k) => k]);
    expect(kept(slope, 20)).toEqual(slope);
    const step = levels([60, 30], [60, 10]);
    expect(kept(step, 20)).toEqual(step);
  });
  it('does not reach over a hole: the samples beside it are their own level', () => {
    const values = levels([50, 10], [5, 40], [10, Number.NaN], [50, 10]);
    expect(kept(values, 20)).toEqual(values.filter((x) => !Number.isNaN(x)));
  });
  it('is what the definition says: the best of all windows that a sample stands in', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 1, max: 12 }),
        (values, seconds) => {
          const slow = values.map((_, i) => {
            const starts = Array.from({ length: seconds + 1 }, (_, k) => i - k).filter((j) => j >= 0);
            return Math.max(...starts.map((j) => Math.min(...values.slice(j, j + seconds + 1))));
          });
          expect(kept(values, seconds)).toEqual(slow);
        },
      ),
    );
  });
});
