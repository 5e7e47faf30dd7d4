import type { Interval } from '../../recording/interval.js';

const MINUTE_MS = 60_000;
/** So many alarms of a unit or a patient in so long are a flood. Common practice, no source. */
const FLOOD_ALARMS = 10;
const FLOOD_MS = 10 * MINUTE_MS;
/** Another alarm of the same kind so soon behind one is a repeat. */
const REPEAT_MS = 2 * MINUTE_MS;

/** A time with 10 or more alarms in 10 min, from the first of them to the last. */
export interface Flood extends Interval {
  readonly alarms: number;
}

/**
 * Floods: stretches over which each alarm stands in some 10 min that hold 10 alarms or more.
 *
 * @param onsetsSorted milliseconds UTC, rising
 */
export function floods(onsetsSorted: readonly number[]): Flood[] {
  const found: { start: number; end: number; first: number; last: number }[] = [];
  for (let first = 0; first + FLOOD_ALARMS <= onsetsSorted.length; first++) {
    const last = first + FLOOD_ALARMS - 1;
    if (onsetsSorted[last] - onsetsSorted[first] > FLOOD_MS) continue;
    const before = found.at(-1);
    if (before && first <= before.last) {
      before.end = onsetsSorted[last];
      before.last = last;
    } else found.push({ start: onsetsSorted[first], end: onsetsSorted[last], first, last });
  }
  return found.map(({ start, end, first, last }) => ({ start, end, alarms: last - first + 1 }));
}

/** An alarm as far as crowding goes. */
export interface OnsetOf {
  readonly onset: number;
  /** Alarms of the same patient, channel and limit share it. */
  readonly kind: string;
}

/**
 * Of each alarm, whether it came within 2 min behind another of the same kind.
 *
 * @param alarmsSorted by onset
 */
export function repeatsAmong(alarmsSorted: readonly OnsetOf[]): boolean[] {
  const last = new Map<string, number>();
  return alarmsSorted.map(({ onset, kind }) => {
    const before = last.get(kind);
    last.set(kind, onset);
    return before !== undefined && onset - before <= REPEAT_MS;
  });
}

/**
 * How many alarms came within 2 min behind another of the same kind.
 *
 * @param alarmsSorted by onset
 */
export const repeats = (alarmsSorted: readonly OnsetOf[]): number =>
  repeatsAmong(alarmsSorted).filter((isRepeat) => isRepeat).length;
