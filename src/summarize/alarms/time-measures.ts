import { firstAfter } from '../../recording/search.js';
import type { Figure } from '../figure.js';
import { aalenJohansen } from '../statistics/aalen-johansen.js';
import type { UnitAuditInput } from './audit-settings.js';
import { coveredHours } from './monitored-days.js';
import type { MonitoredHour } from './patient-audit.js';
import { CAUSE_COUNT, CAUSES, clockTimes } from './response-times.js';
import type { TimePoint } from './time-points.js';
import { isOfRule } from './unit-alarms.js';

/** What is followed over time. */
export const TIME_MEASURES = [
  'alarmsPerDay',
  'sustainedShare',
  'treatedShare',
  'medianMinutesToTreatment',
  'monitoredDays',
] as const;
export type TimeMeasure = (typeof TIME_MEASURES)[number];

/** One measure at one point. */
export interface MeasuredPoint {
  /** What was counted; null of a measure that is no count. */
  readonly count: number | null;
  /** What it is counted on: monitored patient-days, alarms, episodes; null where it is counted on nothing else. */
  readonly size: number | null;
  readonly value: Figure;
}

/** One measure at all points; none where a reason stands. */
export interface MeasuredCourse {
  readonly measure: TimeMeasure;
  readonly reason: string | null;
  readonly points: readonly MeasuredPoint[];
}

/** A sustained episode counts as answered where it was treated within so long, minutes. */
export const ANSWERED_MINUTES = 15;
const DAY_MS = 86_400_000;

const NO_TIME = 'no monitored time that the alarm log reaches';
const NO_ALARM = 'no alarm of which one can tell';
const NO_EPISODE = 'no sustained episode that was followed for long enough';
const NOT_HALF = 'less than half of the episodes were treated before they resolved or were cut off';

/** Sums what has a time over the points; what lies in none is left out. */
function summed<T>(
  points: readonly TimePoint[],
  list: readonly T[],
  at: (one: T) => number,
  of: (one: T) => number,
): number[] {
  const starts = points.map(({ start }) => start);
  const sums = points.map(() => 0);
  for (const one of list) {
    const i = firstAfter(starts, at(one)) - 1;
    if (i >= 0 && at(one) < points[i].end) sums[i] += of(one);
  }
  return sums;
}

const ratios = (counts: readonly number[], sizes: readonly number[], none: string): MeasuredPoint[] =>
  counts.map((count, i) => ({
    count: sizes[i] > 0 ? count : null,
    size: sizes[i],
    value: sizes[i] > 0 ? count / sizes[i] : { reason: none },
  }));

/** Monitored patient-days of each point: ICP or CPP known as exported, by the start of each hour. */
function daysOf(hours: readonly MonitoredHour[], points: readonly TimePoint[]): number[] {
  return summed(
    points,
    hours,
    ({ start }) => start,
    ({ icpMs, cppMs }) => Math.max(icpMs, cppMs) / DAY_MS,
  );
}

function alarmMeasures(input: UnitAuditInput, points: readonly TimePoint[]): MeasuredCourse[] {
  const reason = input.alarmsCover === null ? 'no alarm log was given' : null;
  if (reason !== null) {
    return (['alarmsPerDay', 'sustainedShare'] as const).map((measure) => ({ measure, reason, points: [] }));
  }
  const alarms = input.patients.flatMap((patient) => patient.alarms);
  const counted = (isOf: (alarm: (typeof alarms)[number]) => boolean): number[] =>
    summed(
      points,
      alarms,
      ({ onset }) => onset,
      (alarm) => (isOf(alarm) ? 1 : 0),
    );
  const isTrue = new Set<string>(['sustained', 'cutShort']);
  return [
    {
      measure: 'alarmsPerDay',
      reason,
      points: ratios(
        counted(() => true),
        daysOf(
          input.patients.flatMap(({ hours }) => coveredHours(hours, input.alarmsCover)),
          points,
        ),
        NO_TIME,
      ),
    },
    {
      measure: 'sustainedShare',
      reason,
      points: ratios(
        counted(({ alarmClass }) => isTrue.has(alarmClass)),
        counted((alarm) => isOfRule(alarm) && alarm.alarmClass !== 'cannotTell'),
        NO_ALARM,
      ),
    },
  ];
}

/** Of episodes of ICP alone: one rise often makes an episode of CPP too, and one treatment would count twice. */
function answerMeasures(input: UnitAuditInput, points: readonly TimePoint[]): MeasuredCourse[] {
  const { times, reason } = clockTimes(input, 'icp', 'treated');
  if (reason !== null) {
    return (['treatedShare', 'medianMinutesToTreatment'] as const).map((measure) => ({
      measure,
      reason,
      points: [],
    }));
  }
  const counted = (isOf: (time: (typeof times)[number]) => boolean): number[] =>
    summed(
      points,
      times,
      ({ start }) => start,
      (time) => (isOf(time) ? 1 : 0),
    );
  const isInTime = ({ outcome, minutes, followedMinutes }: (typeof times)[number]): boolean =>
    outcome === 'happened' && minutes <= ANSWERED_MINUTES && followedMinutes >= ANSWERED_MINUTES;
  const medians = points.map(({ start, end }): MeasuredPoint => {
    const own = times.filter((time) => time.start >= start && time.start < end);
    const { incidences } = aalenJohansen(
      own.map(({ minutes }) => minutes),
      own.map(({ outcome }) => CAUSES[outcome]),
      CAUSE_COUNT,
    );
    const median = incidences[0].median.value;
    const none = own.length === 0 ? 'no sustained episode' : NOT_HALF;
    return {
      count: null,
      size: own.length,
      value: typeof median === 'number' ? median : { reason: none },
    };
  });
  return [
    {
      measure: 'treatedShare',
      reason,
      points: ratios(
        counted(isInTime),
        // Whose data would have gone on for so long, whatever came of it: those that were cut off before are no sample
        // of the slow ones alone.
        counted(({ followedMinutes }) => followedMinutes >= ANSWERED_MINUTES),
        NO_EPISODE,
      ),
    },
    { measure: 'medianMinutesToTreatment', reason, points: medians },
  ];
}

/** All measures at all points. An alarm counts where it came on, an episode and an hour where they start. */
export const timeMeasures = (input: UnitAuditInput, points: readonly TimePoint[]): MeasuredCourse[] => [
  ...alarmMeasures(input, points),
  ...answerMeasures(input, points),
  {
    measure: 'monitoredDays',
    reason: null,
    points: daysOf(
      input.patients.flatMap(({ hours }) => hours),
      points,
    ).map((days) => ({ count: null, size: null, value: days })),
  },
];
