import type { Stretch } from '../../segment/stretches.js';

/** A signal that flickers about its limit crosses it all the time; one that was back for so long crosses it anew. */
const CALM_MS = 30_000;

/** When a signal crossed its limit after it had been on the other side for 30 s or more, milliseconds UTC, rising. */
export const freshCrossings = (stretches: readonly Stretch[]): number[] =>
  stretches.flatMap(({ state, start }, i) => {
    const before = stretches[i - 1];
    const isFresh = before?.state === 'within' && before.end - before.start >= CALM_MS;
    return state === 'past' && isFresh ? [start] : [];
  });
