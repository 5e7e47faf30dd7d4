import type { Interval } from '../../recording/interval.js';
import type { ZoneClock } from '../../recording/zone.js';
import { monthsIn, type NightTimes, nightsIn } from '../calendar.js';

export const PERIOD_KINDS = ['all', 'before', 'after', 'night', 'day', 'month'] as const;
export type PeriodKind = (typeof PERIOD_KINDS)[number];

/** A part of the episodes, by when they start. */
export interface ResponsePeriod {
  readonly kind: PeriodKind;
  /** Its ends, milliseconds UTC: of night and day those of all data. */
  readonly span: Interval;
  readonly holds: (startMs: number) => boolean;
}

/** Months stand for themselves where data reach over more than so long. Own convention. */
const LONG_MS = 45 * 86_400_000;

/**
 * The parts by which responses are told: all; before and after a change; night and day; the months of the calendar where
 * data reach over more than 45 days. An episode belongs where it starts.
 *
 * @param extent from the first data to the last
 * @param changedMs null where no change is marked
 */
export function responsePeriods(
  extent: Interval,
  changedMs: number | null,
  night: NightTimes,
  clock: ZoneClock,
): ResponsePeriod[] {
  const nights = nightsIn(extent, night, clock);
  const isNight = (at: number): boolean => nights.some(({ start, end }) => at >= start && at < end);
  const months = extent.end - extent.start > LONG_MS ? monthsIn(extent, clock) : [];
  const changed = (at: number): ResponsePeriod[] => [
    { kind: 'before', span: { start: Math.min(extent.start, at), end: at }, holds: (one) => one < at },
    { kind: 'after', span: { start: at, end: Math.max(extent.end, at) }, holds: (one) => one >= at },
  ];
  return [
    { kind: 'all', span: extent, holds: () => true },
    ...(changedMs === null ? [] : changed(changedMs)),
    { kind: 'night', span: extent, holds: isNight },
    { kind: 'day', span: extent, holds: (at) => !isNight(at) },
    ...months.map(
      (span): ResponsePeriod => ({
        kind: 'month',
        span,
        holds: (at) => at >= span.start && at < span.end,
      }),
    ),
  ];
}
