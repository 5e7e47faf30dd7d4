import type { Interval } from '../recording/interval.js';
import { interpolate } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

/** What x(t) does over a stretch of time, seen from a threshold. */
export type State = 'past' | 'within' | 'unknown';

/** A maximal stretch of one state. */
export interface Stretch extends Interval {
  readonly state: State;
}

/** On which side of the threshold an episode lies. */
export type Side = 'above' | 'below';

interface GrowingStretch {
  readonly state: State;
  readonly start: number;
  end: number;
}

/** Adds a stretch behind the others: one of the same state grows, and what lies between is unknown. */
function append(stretches: GrowingStretch[], state: State, start: number, end: number): void {
  if (start >= end) return;
  const last = stretches.at(-1);
  if (last && last.end < start) stretches.push({ state: 'unknown', start: last.end, end: start });
  if (last && last.state === state && last.end === start) last.end = end;
  else stretches.push({ state, start, end });
}

/** Stretches of parts of a signal that follow each other, as those of the whole: what goes on across a border is one. */
export function joinStretches(parts: readonly (readonly Stretch[])[]): Stretch[] {
  const all: GrowingStretch[] = [];
  for (const { state, start, end } of parts.flat()) append(all, state, start, end);
  return all;
}

/**
 * The whole signal as stretches past the threshold, not past it and unknown, in time order, crossings exact.
 * `x > threshold` is past for `above`, `x < threshold` for `below`.
 */
export function stretchesPast({ times, values, known }: Signal, threshold: number, side: Side): Stretch[] {
  const sign = side === 'above' ? 1 : -1;
  const stretches: GrowingStretch[] = [];
  const add = (state: State, start: number, end: number): void => append(stretches, state, start, end);
  const isPast = (i: number): boolean => sign * (values[i] - threshold) > 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (known[i] === 0) continue;
    const past = isPast(i);
    // A run of pieces on one side is one stretch.
    const start = times[i];
    while (known[i] !== 0 && isPast(i + 1) === past) i++;
    add(past ? 'past' : 'within', start, times[i]);
    if (known[i] === 0) continue;
    const crossing = interpolate(
      0,
      sign * (values[i] - threshold),
      times[i],
      sign * (values[i + 1] - threshold),
      times[i + 1],
    );
    add(past ? 'past' : 'within', times[i], crossing);
    add(past ? 'within' : 'past', crossing, times[i + 1]);
  }
  return stretches;
}
