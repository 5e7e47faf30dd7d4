import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sharesOf } from '../../src/pipeline/shares.js';
import { holds } from '../support/properties.js';

const group = (name: string) => ({ files: [{ name }] });

/** Bytes of each share. */
function loads(shares: readonly number[], bytes: readonly number[], of: number): number[] {
  const sums = new Array<number>(of).fill(0);
  shares.forEach((share, i) => {
    sums[share - 1] += bytes[i];
  });
  return sums;
}

const sized = fc.array(fc.integer({ min: 0, max: 1_000_000 }), { minLength: 1, maxLength: 60 });
const count = fc.integer({ min: 1, max: 12 });

describe('shares of the patients', () => {
  it('give the largest first, each to the share that is smallest so far', () => {
    const groups = ['a', 'b', 'c', 'd', 'e'].map(group);
    expect(sharesOf(groups, [50, 40, 30, 20, 10], 2)).toEqual([1, 2, 2, 1, 1]);
  });

  it('are all of them, each patient once, and none is larger than an even share and one patient', () => {
    holds(
      fc.property(sized, count, (bytes, of) => {
        const shares = sharesOf(
          bytes.map((_, i) => group(`${i}.csv`)),
          bytes,
          of,
        );
        expect(shares.every((share) => Number.isInteger(share) && share >= 1 && share <= of)).toBe(true);
        const total = bytes.reduce((a, b) => a + b, 0);
        // A byte a file stands for the time that even an empty one takes.
        const most = total / of + Math.max(...bytes) + bytes.length;
        expect(Math.max(...loads(shares, bytes, of))).toBeLessThanOrEqual(most);
      }),
    );
  });

  it('hang on names and sizes, and not on the order in which files are found', () => {
    holds(
      fc.property(sized, count, fc.integer(), (bytes, of, turn) => {
        const all = bytes.map((size, i) => ({ ...group(`${i}.csv`), size }));
        const by = Math.abs(turn) % all.length;
        const turned = [...all.slice(by), ...all.slice(0, by)];
        const sizes = (list: typeof all): number[] => list.map(({ size }) => size);
        const plain = sharesOf(all, sizes(all), of);
        const other = sharesOf(turned, sizes(turned), of);
        expect([...other.slice(all.length - by), ...other.slice(0, all.length - by)]).toEqual(plain);
      }),
    );
  });

  it('are empty where there are more shares than patients', () => {
    expect(sharesOf([group('a')], [5], 3)).toEqual([1]);
  });
});
