import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Interval,
  intersect,
  overlaps,
  subtract,
  totalMs,
  unite,
} from '../../src/recording/interval.js';
import { holds } from '../support/properties.js';

const SPAN = 30;

/** Lists of intervals with at least one millisecond, on small whole numbers. */
const lists = fc.array(
  fc
    .tuple(fc.integer({ min: 0, max: SPAN - 1 }), fc.integer({ min: 1, max: 8 }))
    .map(([start, length]) => ({ start, end: Math.min(SPAN, start + length) })),
  { maxLength: 8 },
);

/** Which milliseconds are covered, one by one: the brute force that the lists are held against. */
const cellsOf = (intervals: readonly Interval[]): boolean[] =>
  Array.from({ length: SPAN }, (_, cell) =>
    intervals.some(({ start, end }) => start <= cell && cell + 1 <= end),
  );

const isTidy = (intervals: readonly Interval[]): boolean =>
  intervals.every(({ start, end }, i) => start < end && (i === 0 || intervals[i - 1].end <= start));

describe('lists of intervals, against counting milliseconds one by one', () => {
  it('unite covers the same time, sorted, with touching intervals joined', () => {
    holds(
      fc.property(lists, (list) => {
        const united = unite(list);
        expect(cellsOf(united)).toEqual(cellsOf(list));
        expect(united.every(({ start }, i) => i === 0 || united[i - 1].end < start)).toBe(true);
        expect(totalMs(united)).toBe(cellsOf(list).filter(Boolean).length);
      }),
    );
  });

  it('intersect holds what both cover', () => {
    holds(
      fc.property(lists, lists, (a, b) => {
        const common = intersect(unite(a), unite(b));
        const inB = cellsOf(b);
        expect(cellsOf(common)).toEqual(cellsOf(a).map((inA, cell) => inA && inB[cell]));
        expect(isTidy(common)).toBe(true);
      }),
    );
  });

  it('subtract holds what the first covers and the second does not', () => {
    holds(
      fc.property(lists, lists, (a, b) => {
        const rest = subtract(unite(a), unite(b));
        const inB = cellsOf(b);
        expect(cellsOf(rest)).toEqual(cellsOf(a).map((inA, cell) => inA && !inB[cell]));
        expect(isTidy(rest)).toBe(true);
      }),
    );
  });

  it('two intervals overlap where they share a millisecond', () => {
    holds(
      fc.property(lists, lists, (a, b) => {
        fc.pre(a.length > 0 && b.length > 0);
        const inB = cellsOf(b.slice(0, 1));
        const shared = cellsOf(a.slice(0, 1)).some((inA, cell) => inA && inB[cell]);
        expect(overlaps(a[0], b[0])).toBe(shared);
      }),
    );
  });
});

describe('instants', () => {
  const instant = { start: 5, end: 5 };
  it('an instant inside an interval or at its end overlaps it, whichever is named first', () => {
    for (const interval of [
      { start: 0, end: 10 },
      { start: 5, end: 10 },
      { start: 0, end: 5 },
      { start: 5, end: 5 },
    ]) {
      expect(overlaps(instant, interval)).toBe(true);
      expect(overlaps(interval, instant)).toBe(true);
    }
  });
  it('an instant beside an interval does not overlap it', () => {
    expect(overlaps(instant, { start: 6, end: 10 })).toBe(false);
    expect(overlaps({ start: 6, end: 10 }, instant)).toBe(false);
  });
  it('touching intervals do not overlap and have nothing in common', () => {
    expect(overlaps({ start: 0, end: 5 }, { start: 5, end: 9 })).toBe(false);
    expect(intersect([{ start: 0, end: 5 }], [{ start: 5, end: 9 }])).toEqual([]);
  });
  it('uniting leaves the given list alone', () => {
    const list = [
      { start: 3, end: 6 },
      { start: 0, end: 4 },
    ];
    expect(unite(list)).toEqual([{ start: 0, end: 6 }]);
    expect(list).toEqual([
      { start: 3, end: 6 },
      { start: 0, end: 4 },
    ]);
  });
});
