import { rollingMedian } from '../recording/rolling-median.js';
import type { Signal } from '../recording/signal.js';

/** Where a signal stood around each of its samples: medians, itself left out; NaN where there is no sample. */
export interface Levels {
  readonly before: Float64Array;
  readonly after: Float64Array;
}

function computeLevels({ times, values }: Signal, seconds: number): Levels {
  const ms = seconds * 1000;
  const n = times.length;
  const [beforeFrom, beforeTo, afterFrom, afterTo] = Array.from({ length: 4 }, () => new Uint32Array(n));
  let first = 0;
  let behind = 0;
  for (let i = 0; i < n; i++) {
    while (times[first] < times[i] - ms) first++;
    while (behind < n && times[behind] <= times[i] + ms) behind++;
    beforeFrom[i] = first;
    beforeTo[i] = i;
    afterFrom[i] = i + 1;
    afterTo[i] = behind;
  }
  return {
    before: rollingMedian(values, beforeFrom, beforeTo),
    after: rollingMedian(values, afterFrom, afterTo),
  };
}

/** Several rules ask for the levels of the same signal. */
const computed = new WeakMap<Signal, Map<number, Levels>>();

/** Medians of the samples within the seconds before and after each sample. */
export function levelsAround(signal: Signal, seconds: number): Levels {
  const known = computed.get(signal) ?? new Map<number, Levels>();
  computed.set(signal, known);
  const levels = known.get(seconds) ?? computeLevels(signal, seconds);
  known.set(seconds, levels);
  return levels;
}
