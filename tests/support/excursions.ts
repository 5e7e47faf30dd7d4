import type { Signal } from '../../src/recording/signal.js';
import { through } from './signals.js';

/** One stretch: so many seconds above, below the threshold of 22 mmHg, or unknown. */
export type Stretch = readonly ['above' | 'below' | 'unknown', number];

const LEVEL = { above: 30, below: 14 } as const;

/**
 * A signal of stretches between exact crossings of 22 mmHg, one after the other from T0 on. Flanks take a quarter of a
 * second on each side of a crossing; an unknown stretch begins and ends at the level of its neighbours.
 */
export function stretchesAround22(...stretches: readonly Stretch[]): Signal {
  const points: [number, number][] = [];
  const unknownFrom = new Set<number>();
  let at = 0;
  stretches.forEach(([state, length], i) => {
    const before = stretches[i - 1]?.[0];
    const after = stretches[i + 1]?.[0];
    if (state === 'unknown') {
      unknownFrom.add(at);
    } else {
      const level = LEVEL[state];
      if (before === undefined || before === 'unknown') points.push([at, level]);
      else points.push([at, 22], [at + 0.25, level]);
      if (after === undefined || after === 'unknown') points.push([at + length, level]);
      else points.push([at + length - 0.25, level]);
    }
    at += length;
  });
  const signal = through(points);
  points.forEach(([s], i) => {
    if (unknownFrom.has(s)) signal.known[i] = 0;
  });
  return signal;
}
