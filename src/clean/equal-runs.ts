import type { Signal } from '../recording/signal.js';
import type { Run } from './runs.js';

/** A run of equal values without a hole in it. */
export interface EqualRun extends Run {
  /** Chance of so many repeats, from how often neighbouring values differ outside the run. */
  readonly chanceOfRepeats: number;
  /** False where the channel hardly ever changes at all, so that no chance can be learnt from it. */
  readonly hasLived: boolean;
}

/** Shorter runs are everyday in whole numbers. */
const LEAST_REPEATS = 3;

/** A channel whose values differ less often than this never lived: chance cannot be learnt from it. */
const LEAST_CHANGES = 5;
const LEAST_CHANGE_SHARE = 1 / 1000;

const remembered = new WeakMap<Signal, readonly EqualRun[]>();

/** The runs of equal neighbouring values; the chance of each follows from the rest of the channel. */
export function equalRuns(signal: Signal): readonly EqualRun[] {
  const runs = remembered.get(signal) ?? findEqualRuns(signal);
  remembered.set(signal, runs);
  return runs;
}

function findEqualRuns({ values, known }: Signal): EqualRun[] {
  const runs: Run[] = [];
  let pairs = 0;
  let different = 0;
  for (let i = 0; i + 1 < values.length; i++) {
    if (!known[i]) continue;
    pairs++;
    if (values[i] !== values[i + 1]) different++;
  }
  for (let i = 0; i < values.length; i++) {
    const first = i;
    while (known[i] && values[i + 1] === values[first]) i++;
    if (i - first >= LEAST_REPEATS) runs.push({ first, last: i });
  }
  const hasLived = different >= Math.max(LEAST_CHANGES, LEAST_CHANGE_SHARE * pairs);
  return runs.map(({ first, last }) => {
    const repeats = last - first;
    const elsewhere = pairs - repeats;
    const c = elsewhere > 0 ? different / elsewhere : 0;
    return { first, last, chanceOfRepeats: (1 - c) ** repeats, hasLived };
  });
}
