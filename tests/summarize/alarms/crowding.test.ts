import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { floods, repeats } from '../../../src/summarize/alarms/crowding.js';
import { holds } from '../../support/properties.js';

const minutes = (...list: readonly number[]): number[] => list.map((m) => m * 60_000);

describe('a flood of alarms', () => {
  it('is 10 or more in 10 min', () => {
    const ten = minutes(0, 1, 2, 3, 4, 5, 6, 7, 8, 10);
    expect(floods(ten)).toEqual([{ start: 0, end: 600_000, alarms: 10 }]);
    expect(floods(ten.slice(1))).toEqual([]);
    expect(floods([...ten.slice(0, 9), 600_001])).toEqual([]);
  });

  it('goes on while any 10 min hold 10', () => {
    const even = minutes(...Array.from({ length: 30 }, (_, i) => i));
    expect(floods(even)).toEqual([{ start: 0, end: 29 * 60_000, alarms: 30 }]);
    const two = [...even.slice(0, 10), ...even.slice(0, 12).map((t) => t + 3_600_000)];
    expect(floods(two).map(({ alarms }) => alarms)).toEqual([10, 12]);
  });

  it('holds just the alarms that some 10 min with 10 alarms hold', () => {
    const onsets = fc.array(fc.integer({ min: 0, max: 3_600_000 }), { maxLength: 80 });
    holds(
      fc.property(onsets, (list) => {
        const sorted = list.toSorted((a, b) => a - b);
        const inFlood = sorted.filter((_, i) =>
          sorted.some((from, k) => {
            const inside = sorted.slice(k).filter((t) => t - from <= 600_000).length;
            return inside >= 10 && i >= k && i < k + inside;
          }),
        );
        expect(floods(sorted).reduce((sum, { alarms }) => sum + alarms, 0)).toBe(inFlood.length);
      }),
    );
  });
});

describe('repeats', () => {
  it('come within 2 min behind another of their kind', () => {
    const of = (kind: string, ...at: number[]) => at.map((m) => ({ kind, onset: m * 60_000 }));
    const alarms = [...of('icp', 0, 1.5, 3.5, 6), ...of('cpp', 1, 2.9)].toSorted((a, b) => a.onset - b.onset);
    expect(repeats(alarms)).toBe(3);
    expect(repeats([])).toBe(0);
  });
});
