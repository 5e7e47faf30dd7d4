import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** A seeded stream of noise: mean 0, standard deviation 1, near enough to the bell curve. */
export function noise(seed: number): () => number {
  const random = xoroshiro128plus(seed);
  return () => {
    let sum = -6;
    for (let i = 0; i < 12; i++) sum += uniformFloat64(random);
    return sum;
  };
}

/** Noise that remembers: each value is `memory` times the one before, and new noise; standard deviation 1. */
export function wandering(seed: number, memory: number): () => number {
  const next = noise(seed);
  let x = next();
  return () => {
    x = memory * x + Math.sqrt(1 - memory * memory) * next();
    return x;
  };
}

/** A list of so many values. */
export const listOf = (count: number, next: (i: number) => number): Float64Array =>
  Float64Array.from({ length: count }, (_, i) => next(i));
