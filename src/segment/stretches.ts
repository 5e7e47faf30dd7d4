import type { Interval } from '../recording/interval.js';
import { forEachPiece, interpolate, wholeOf } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

/** What x(t) does over a stretch of time, seen from a threshold. */
export type State = 'past' | 'within' | 'unknown';

/** A maximal stretch of one state. */
export interface Stretch extends Interval {
  readonly state: State;
}

/** On which side of the threshold an episode lies. */
export type Side = 'above' | 'below';

/**
 * The whole signal as stretches past the threshold, not past it and unknown, in time order, crossings exact.
 * `x > threshold` is past for `above`, `x < threshold` for `below`.
 */
export function stretchesPast(signal: Signal, threshold: number, side: Side): Stretch[] {
  const sign = side === 'above' ? 1 : -1;
  const stretches: { state: State; start: number; end: number }[] = [];
  const add = (state: State, start: number, end: number): void => {
    if (start >= end) return;
    const last = stretches.at(-1);
    if (last && last.end < start) stretches.push({ state: 'unknown', start: last.end, end: start });
    if (last && last.state === state && last.end === start) last.end = end;
    else stretches.push({ state, start, end });
  };
  forEachPiece(signal, wholeOf(signal), (t0, x0, t1, x1) => {
    const from = sign * (x0 - threshold);
    const to = sign * (x1 - threshold);
    if (from > 0 === to > 0) {
      add(from > 0 ? 'past' : 'within', t0, t1);
      return;
    }
    const crossing = interpolate(0, from, t0, to, t1);
    add(from > 0 ? 'past' : 'within', t0, crossing);
    add(to > 0 ? 'past' : 'within', crossing, t1);
  });
  return stretches;
}
