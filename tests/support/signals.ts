import { signalOf } from '../../src/recording/sampling.js';
import type { Signal } from '../../src/recording/signal.js';

/** An arbitrary instant that all hand-made signals start at, milliseconds UTC. */
export const T0 = Date.UTC(2031, 1, 11, 18);

/** A signal of samples at a fixed interval; NaN leaves a sample out. */
export function everySeconds(intervalSeconds: number, values: readonly number[], start = T0): Signal {
  const samples = values.flatMap((value, i) =>
    Number.isNaN(value) ? [] : [[start + i * intervalSeconds * 1000, value] as const],
  );
  return signalOf(Float64Array.from(samples.map(([t]) => t)), Float64Array.from(samples.map(([, x]) => x)));
}

/** A signal through points given in seconds after T0, every piece known whatever its length. */
export function through(points: readonly (readonly [seconds: number, value: number])[]): Signal {
  const times = Float64Array.from(points, ([s]) => T0 + s * 1000);
  const known = new Uint8Array(times.length).fill(1);
  if (known.length > 0) known[known.length - 1] = 0;
  return { times, values: Float64Array.from(points, ([, x]) => x), known };
}
