import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { expect } from 'vitest';
import type { Figure } from '../../src/summarize/figure.js';

/** Invented times to the first of several events; cause 0 = observation ended. */
export interface Followed {
  readonly times: number[];
  readonly causes: number[];
}

/** So many people, whose times are whole numbers up to `most`, so that many are the same. */
export function followed(seed: number, count: number, most: number, causeCount: number): Followed {
  const random = xoroshiro128plus(seed);
  const times: number[] = [];
  const causes: number[] = [];
  for (let i = 0; i < count; i++) {
    times.push(Math.ceil(-Math.log(1 - uniformFloat64(random)) * most * 0.3));
    causes.push(uniformInt(random, 0, causeCount));
  }
  return { times, causes };
}

/** A figure as R writes it: without a number where there is a reason. */
export const orNull = (figure: Figure): number | null => (typeof figure === 'number' ? figure : null);

/** Numbers are the same to a relative 1e-9, or are 0 but for rounding; what is none is none in both. */
export function expectSame(ours: readonly (number | null)[], theirs: readonly (number | null)[]): void {
  expect(ours.length).toBe(theirs.length);
  ours.forEach((x, i) => {
    const y = theirs[i];
    if (x === null || y === null) expect(x).toBe(y);
    else expect(Math.abs(x - y)).toBeLessThanOrEqual(1e-12 + 1e-9 * Math.abs(y));
  });
}
