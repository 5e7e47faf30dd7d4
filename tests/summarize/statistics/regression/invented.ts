import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { expect } from 'vitest';
import { noise } from '../../../support/noise.js';

/** Invented patients: three predictors in unlike units, and an outcome that hangs on the first two. */
export interface Invented {
  readonly columns: number[][];
  readonly events: number[];
}

export function invented(seed: number, count: number): Invented {
  const draw = noise(seed);
  const random = xoroshiro128plus(seed + 1);
  const dose = Array.from({ length: count }, () => 40 + 25 * draw());
  const score = Array.from({ length: count }, () => Math.round(8 + 3 * draw()));
  const older = Array.from({ length: count }, () => (uniformFloat64(random) < 0.4 ? 1 : 0));
  const events = dose.map((x, i) => {
    const logOdds = 0.03 * (x - 40) - 0.2 * (score[i] - 8);
    return uniformFloat64(random) < 1 / (1 + Math.exp(-logOdds)) ? 1 : 0;
  });
  return { columns: [dose, score, older], events };
}

/** The fit; the test fails with the reason where there is none. */
export function fitOf<T extends object>(found: T): Exclude<T, { readonly reason: string }> {
  if ('reason' in found) throw new Error(`no fit: ${found.reason}`);
  return found as Exclude<T, { readonly reason: string }>;
}

/** The same but for a share of the larger, or for what is next to nothing. */
export function expectNear(ours: readonly number[], theirs: readonly number[], share: number): void {
  expect(ours.length).toBe(theirs.length);
  ours.forEach((x, i) => {
    expect(Math.abs(x - theirs[i]), `${x} against ${theirs[i]}`).toBeLessThanOrEqual(
      share * (1e-3 + Math.max(Math.abs(x), Math.abs(theirs[i]))),
    );
  });
}
