import { type Interval, lengthMs } from '../../recording/interval.js';
import { type Figure, type WithReasons, withReasons } from '../figure.js';
import { HOUR_MS } from '../hour.js';
import { MINUTE_MS, type MinuteCourse } from './minute-course.js';

/** An index over one stretch of time. */
export interface IndexWindow extends Interval, WithReasons<'mean'> {
  /** Minutes at whose end it could be computed. */
  readonly computableMinutes: number;
}

/** An index of reactivity over a period. */
export interface IndexFigures extends WithReasons<'mean' | 'shareAboveLimit' | 'hoursAboveLimit'> {
  readonly computableHours: number;
  readonly computableShare: number;
  /** Why it could be computed at no time; null where it could. */
  readonly whyNone: string | null;
  readonly hours: readonly IndexWindow[];
}

/** The values of a course that stand for minutes which end behind the start of a window and up to its end. */
export function valuesIn({ firstEnd, values }: MinuteCourse, { start, end }: Interval): Float64Array {
  const from = Math.max(0, Math.floor((start - firstEnd) / MINUTE_MS) + 1);
  const to = Math.max(from, Math.floor((end - firstEnd) / MINUTE_MS) + 1);
  return values.subarray(from, to);
}

/** Mean of what is known of a list; NaN where nothing is. */
export function meanKnown(values: Float64Array): number {
  let [sum, n] = [0, 0];
  for (const x of values) {
    if (Number.isNaN(x)) continue;
    sum += x;
    n++;
  }
  return n === 0 ? Number.NaN : sum / n;
}

/** How many values of a list are known. */
export const countKnown = (values: Float64Array): number =>
  values.reduce((n, x) => (Number.isNaN(x) ? n : n + 1), 0);

const orReason = (value: number, reason: string): Figure => (Number.isNaN(value) ? { reason } : value);

const NEVER = 'ICP and arterial pressure were not known together for long enough';

/**
 * Mean of an index, how long it was over its limit, and for how much of the period it could be computed.
 *
 * @param course or why there is none
 * @param limit null for an index that has none
 */
export function indexFigures(
  course: MinuteCourse | string,
  period: Interval,
  hours: readonly Interval[],
  limit: number | null,
): IndexFigures {
  const values = typeof course === 'string' ? new Float64Array(0) : valuesIn(course, period);
  const known = countKnown(values);
  const whyNone = typeof course === 'string' ? course : known === 0 ? NEVER : null;
  const above = values.reduce((n, x) => (limit !== null && x > limit ? n + 1 : n), 0);
  const limited = (figure: number): Figure => {
    if (whyNone !== null) return { reason: whyNone };
    return limit === null ? { reason: 'this index has no limit' } : figure;
  };
  return {
    ...withReasons({
      mean: whyNone === null ? meanKnown(values) : { reason: whyNone },
      shareAboveLimit: limited(above / known),
      hoursAboveLimit: limited((above * MINUTE_MS) / HOUR_MS),
    }),
    computableHours: (known * MINUTE_MS) / HOUR_MS,
    computableShare: Math.min(1, (known * MINUTE_MS) / lengthMs(period)),
    whyNone,
    hours: hours.map(({ start, end }) => {
      const inside = typeof course === 'string' ? values : valuesIn(course, { start, end });
      return {
        start,
        end,
        ...withReasons({ mean: orReason(meanKnown(inside), whyNone ?? NEVER) }),
        computableMinutes: countKnown(inside),
      };
    }),
  };
}
