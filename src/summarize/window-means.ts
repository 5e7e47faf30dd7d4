import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';

const MINUTE_MS = 60_000;
/** Length of the windows whose means are called highest and lowest in reports. */
export const HIGHLIGHT_MINUTES = 5;

/** A mean over a window of fixed length. */
export interface WindowMean {
  /** Start of the window, milliseconds UTC. */
  readonly start: number;
  readonly mean: number;
}

/** Area under x (value x milliseconds) and known milliseconds in each UTC minute that the signal reaches. */
interface MinuteSums {
  readonly firstMinute: number;
  readonly area: Float64Array;
  readonly known: Float64Array;
}

function minuteSums({ times, values, known }: Signal): MinuteSums {
  const n = times.length;
  const firstMinute = n === 0 ? 0 : Math.floor(times[0] / MINUTE_MS);
  const count = n === 0 ? 0 : Math.floor(times[n - 1] / MINUTE_MS) + 1 - firstMinute;
  const areas = new Float64Array(count);
  const knownMs = new Float64Array(count);
  let minute = firstMinute;
  let end = (minute + 1) * MINUTE_MS;
  for (let i = 0; i + 1 < n; i++) {
    if (known[i] === 0) continue;
    const t0 = times[i];
    const t1 = times[i + 1];
    if (t0 >= end) {
      minute = Math.floor(t0 / MINUTE_MS);
      end = (minute + 1) * MINUTE_MS;
    }
    if (t1 <= end) {
      areas[minute - firstMinute] += ((values[i] + values[i + 1]) / 2) * (t1 - t0);
      knownMs[minute - firstMinute] += t1 - t0;
      continue;
    }
    const x0 = values[i];
    const slope = (values[i + 1] - x0) / (t1 - t0);
    let from = t0;
    while (t1 > end) {
      areas[minute - firstMinute] += (x0 + slope * ((from + end) / 2 - t0)) * (end - from);
      knownMs[minute - firstMinute] += end - from;
      from = end;
      minute++;
      end += MINUTE_MS;
    }
    areas[minute - firstMinute] += (x0 + slope * ((from + t1) / 2 - t0)) * (t1 - from);
    knownMs[minute - firstMinute] += t1 - from;
  }
  return { firstMinute, area: areas, known: knownMs };
}

const remembered = new WeakMap<Signal, MinuteSums>();

/** The sums of a signal, computed once however many windows are asked for. */
function minuteSumsOf(signal: Signal): MinuteSums {
  const sums = remembered.get(signal) ?? minuteSums(signal);
  remembered.set(signal, sums);
  return sums;
}

/**
 * Means over windows of `minutes` that start on each whole UTC minute and lie inside `window`; windows that are known
 * for less than half are left out. The starts do not depend on the samples, so that adding samples on the lines
 * changes nothing.
 */
export function windowMeans(signal: Signal, window: Interval, minutes = HIGHLIGHT_MINUTES): WindowMean[] {
  const { firstMinute, area, known } = minuteSumsOf(signal);
  const means: WindowMean[] = [];
  // Whole minutes of the window, also where they reach over the ends of the signal.
  const first = Math.ceil(window.start / MINUTE_MS) - firstMinute;
  const behind = Math.floor(window.end / MINUTE_MS) - firstMinute;
  for (
    let m = Math.max(first, 1 - minutes);
    m + minutes <= Math.min(behind, area.length + minutes - 1);
    m++
  ) {
    const start = (firstMinute + m) * MINUTE_MS;
    let sum = 0;
    let ms = 0;
    for (let k = Math.max(0, m); k < Math.min(m + minutes, area.length); k++) {
      sum += area[k];
      ms += known[k];
    }
    if (ms >= (minutes * MINUTE_MS) / 2) means.push({ start, mean: sum / ms });
  }
  return means;
}
