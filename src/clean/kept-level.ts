import type { Signal } from '../recording/signal.js';
import type { Run } from './runs.js';

/** First and last index of each stretch over which a signal is known; single samples are stretches too. */
export function* knownRuns({ known }: Signal): Generator<Run> {
  for (let first = 0; first < known.length; ) {
    let last = first;
    while (known[last]) last++;
    yield { first, last };
    first = last + 1;
  }
}

/** The lowest value of the window of so many milliseconds that starts at each sample, within a stretch. */
function lowestAhead(
  { times, values }: Signal,
  { first, last }: Run,
  ms: number,
  lowest: Float64Array,
): void {
  const queue = new Int32Array(last - first + 1);
  let head = 0;
  let tail = 0;
  let entered = first;
  for (let i = first; i <= last; i++) {
    for (; entered <= last && times[entered] - times[i] <= ms; entered++) {
      while (tail > head && values[queue[tail - 1]] >= values[entered]) tail--;
      queue[tail++] = entered;
    }
    while (queue[head] < i) head++;
    lowest[i] = values[queue[head]];
  }
}

/** The highest of the windows' lowest values, over the windows that each sample stands in. */
function highestBehind(
  { times }: Signal,
  { first, last }: Run,
  ms: number,
  lowest: Float64Array,
  kept: Float64Array,
): void {
  const queue = new Int32Array(last - first + 1);
  let head = 0;
  let tail = 0;
  for (let i = first; i <= last; i++) {
    while (tail > head && lowest[queue[tail - 1]] <= lowest[i]) tail--;
    queue[tail++] = i;
    while (times[queue[head]] < times[i] - ms) head++;
    kept[i] = lowest[queue[head]];
  }
}

/**
 * For each sample the highest level that the signal keeps for so many seconds on end at that time: what stands over it
 * comes and goes faster. A slow rise or fall and a long plateau are their own kept level; a cough is not. (In image
 * processing this is a grey-scale opening by an interval.)
 *
 * @returns mmHg, one for each sample, never over the sample's value; next to a hole the value itself
 */
export function keptLevel(signal: Signal, seconds: number): Float64Array {
  const ms = seconds * 1000;
  const lowest = new Float64Array(signal.values.length);
  const kept = new Float64Array(signal.values.length);
  for (const run of knownRuns(signal)) {
    lowestAhead(signal, run, ms, lowest);
    highestBehind(signal, run, ms, lowest, kept);
  }
  return kept;
}
