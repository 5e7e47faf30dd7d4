import fc from 'fast-check';
import type { Interval } from '../../src/recording/interval.js';
import type { Signal } from '../../src/recording/signal.js';
import { T0 } from './signals.js';

/** The same cases on every machine and every day; another seed can be tried from outside. */
const SEED = Number(process.env.PROPERTY_SEED ?? 20_310_211);

/** Checks a property on so many random cases, or as many as PROPERTY_RUNS says. */
export function holds<T>(property: fc.IProperty<T>, runs = 300): void {
  fc.assert(property, { seed: SEED, numRuns: Number(process.env.PROPERTY_RUNS ?? runs) });
}

/** The same for properties that have to wait for something, as for a database. */
export async function holdsLater<T>(property: fc.IAsyncProperty<T>, runs = 100): Promise<void> {
  await fc.assert(property, { seed: SEED, numRuns: Number(process.env.PROPERTY_RUNS ?? runs) });
}

/** Pressures in tenths of a mmHg, often on whole numbers and on the thresholds themselves. */
export const pressures = fc.oneof(
  { weight: 3, arbitrary: fc.integer({ min: -50, max: 700 }).map((tenths) => tenths / 10) },
  { weight: 1, arbitrary: fc.constantFrom(5, 15, 20, 22, 50, 60, 70) },
);

/** Random signals: uneven spacing, flat pieces, and pieces that are unknown. */
export const signals = (longestSpacingMs = 90_000): fc.Arbitrary<Signal> =>
  fc
    .array(
      fc.record({
        spacingMs: fc.noBias(fc.integer({ min: 1, max: longestSpacingMs })),
        value: pressures,
        known: fc.integer({ min: 0, max: 9 }).map((n) => n > 0),
        repeats: fc.integer({ min: 0, max: 9 }).map((n) => n === 0),
      }),
      { minLength: 2, maxLength: 40, size: 'max' },
    )
    .map((samples) => {
      const times = new Float64Array(samples.length);
      const values = new Float64Array(samples.length);
      let t = T0;
      samples.forEach(({ spacingMs, value, repeats }, i) => {
        t += spacingMs;
        times[i] = t;
        values[i] = repeats && i > 0 ? values[i - 1] : value;
      });
      const known = Uint8Array.from(samples, ({ known: isKnown }, i) =>
        isKnown && i + 1 < samples.length ? 1 : 0,
      );
      return { times, values, known };
    });

/** Intervals anywhere around the first 55 minutes after T0, by whole milliseconds. */
export const intervals = (longestMs = 2_400_000): fc.Arbitrary<Interval> =>
  fc
    .tuple(
      fc.noBias(fc.integer({ min: -60_000, max: 900_000 })),
      fc.noBias(fc.integer({ min: 0, max: longestMs })),
    )
    .map(([from, length]) => ({ start: T0 + from, end: T0 + from + length }));
