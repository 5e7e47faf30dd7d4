import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';

const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const DAY_MS = 86_400_000;
/** The clock is never set by more in one night, milliseconds. */
const LARGEST_CHANGE_MS = 3 * HOUR_MS;
/** Longer windows are labelled with days alone. */
const HOURS_UP_TO_MS = 3 * DAY_MS;
const SHORT_STEPS = [
  ...[1, 2, 5, 10, 15, 30].map((n) => n * MINUTE_MS),
  ...[1, 2, 3, 6, 12].map((n) => n * HOUR_MS),
];
const DAY_STEPS = [1, 2, 7, 14, 28, 91].map((n) => n * DAY_MS);

/** Instants of a window, milliseconds UTC, rising. */
export interface Instants {
  /** The clock on the wall shows a multiple of the step, or a day begins. */
  readonly ticks: readonly number[];
  /** Of every day that begins inside. */
  readonly days: readonly number[];
}

/** The step between labels that are at least so far apart, and whether the labels are days. */
export function axisSteps(lengthMs: number, leastMs: number): { stepMs: number; areDays: boolean } {
  const areDays = lengthMs > HOURS_UP_TO_MS;
  const steps = areDays ? DAY_STEPS : SHORT_STEPS;
  return { stepMs: steps.find((step) => step >= leastMs) ?? steps[steps.length - 1], areDays };
}

/** The first instant of a local day; where the clock skips midnight, the instant at which it goes on. */
const startOfDay = (localMs: number, clock: ZoneClock): number =>
  clock.toUtc(localMs)[0] ?? localMs - clock.offsetMsAt(localMs - DAY_MS);

/** Local times of a window at a step, and all days that begin in it. */
export function instantsOf({ start, end }: Interval, stepMs: number, clock: ZoneClock): Instants {
  const isInside = (at: number): boolean => at >= start && at <= end;
  const from = clock.toLocal(start) - LARGEST_CHANGE_MS;
  const to = clock.toLocal(end) + LARGEST_CHANGE_MS;
  const multiples = (step: number): number[] => {
    const first = Math.ceil(from / step);
    return Array.from({ length: Math.floor(to / step) - first + 1 }, (_, i) => (first + i) * step);
  };
  const days = multiples(DAY_MS)
    .map((local) => startOfDay(local, clock))
    .filter(isInside);
  const ticks =
    stepMs >= DAY_MS
      ? multiples(stepMs).map((local) => startOfDay(local, clock))
      : [...multiples(stepMs).flatMap((local) => clock.toUtc(local)), ...days];
  return { ticks: [...new Set(ticks.filter(isInside))].sort((a, b) => a - b), days };
}
