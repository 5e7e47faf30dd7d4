import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstAfter, firstAtOrAfter } from '../../src/recording/search.js';
import { holds } from '../support/properties.js';

const sortedLists = fc
  .uniqueArray(fc.integer({ min: 0, max: 40 }), { maxLength: 20 })
  .map((list) => list.sort((a, b) => a - b));

/** Brute force: the first index that fulfils the condition, or the length. */
const firstWhere = (list: readonly number[], condition: (x: number) => boolean): number => {
  const index = list.findIndex(condition);
  return index < 0 ? list.length : index;
};

describe('search in sorted times, against looking at each one', () => {
  it('finds the first at or after a time', () => {
    holds(
      fc.property(sortedLists, fc.integer({ min: -1, max: 41 }), (list, at) => {
        expect(firstAtOrAfter(list, at)).toBe(firstWhere(list, (x) => x >= at));
      }),
    );
  });
  it('finds the first after a time', () => {
    holds(
      fc.property(sortedLists, fc.integer({ min: -1, max: 41 }), (list, at) => {
        expect(firstAfter(list, at)).toBe(firstWhere(list, (x) => x > at));
      }),
    );
  });
});
