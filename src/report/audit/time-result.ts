import type { UnitAuditInput } from '../../summarize/alarms/audit-settings.js';
import { type OverTime, overTime, type TimeCourse } from '../../summarize/alarms/over-time.js';
import type { TimeMeasure } from '../../summarize/alarms/time-measures.js';
import type { TimeView } from '../../summarize/alarms/time-views.js';
import type { Figure } from '../../summarize/figure.js';
import type { AuditTime, MeasureResult, ViewResult } from '../results-audit-time.js';
import { pointName } from './point-name.js';
import { limitWords, runWords } from './signal-words.js';

const UNITS: Readonly<Record<TimeMeasure, string>> = {
  alarmsPerDay: '{alarms}/d',
  sustainedShare: '1',
  treatedShare: '1',
  medianMinutesToTreatment: 'min',
  monitoredDays: 'd',
};

const orNull = (figure: Figure | undefined): number | null => (typeof figure === 'number' ? figure : null);

/** Alarms and answers over time as they go out. */
export function timeResult(
  input: UnitAuditInput,
  { points, courses }: OverTime = overTime(input),
): AuditTime {
  const { clock, settings } = input;
  const starts = points.map(({ start }) => clock.format(start));
  return {
    maskedBelow: null,
    per: settings.per,
    changed:
      settings.changed === null
        ? null
        : { at: clock.format(settings.changed.atMs), what: settings.changed.what },
    points: points.map(({ end, part }, i) => ({
      name: pointName(starts[i], settings.per),
      start: starts[i],
      end: clock.format(end),
      part,
    })),
    measures: courses.map((course) => measureResult(course, starts, settings.per)),
  };
}

function measureResult(
  { measure, reason, points, views }: TimeCourse,
  starts: readonly string[],
  per: AuditTime['per'],
): MeasureResult {
  return {
    measure,
    unit: UNITS[measure],
    reason,
    points: points.map(({ count, size, value }, i) => ({
      start: starts[i],
      count,
      size,
      value: orNull(value),
      ...(typeof value === 'number' ? {} : { valueReason: value.reason }),
    })),
    leftOut: points.filter(({ value }) => typeof value !== 'number').length,
    views: views.map((view) => viewResult(view, starts, per)),
  };
}

function viewResult(
  { kind, points, baselinePoints, run: found, limitsReason }: TimeView,
  starts: readonly string[],
  per: AuditTime['per'],
): ViewResult {
  const { centreLine, longestRun } = found;
  const startOf = (i: number): string => starts[points[i].index];
  const numberAt = (i: number): number => orNull(points[i].limits.value) ?? 0;
  const run: ViewResult['run'] = {
    centreLine: orNull(centreLine),
    ...(typeof centreLine === 'number' ? {} : { centreLineReason: centreLine.reason }),
    useful: found.useful,
    longest:
      longestRun === null
        ? null
        : {
            points: longestRun.points,
            side: numberAt(longestRun.first) > (orNull(centreLine) ?? 0) ? 'over' : 'under',
            start: startOf(longestRun.first),
            end: startOf(longestRun.last),
          },
    mostInRun: found.mostInRun,
    crossings: found.crossings,
    fewestCrossings: found.fewestCrossings,
    hasSignal:
      found.hasLongRun === null || found.hasFewCrossings === null
        ? null
        : found.hasLongRun || found.hasFewCrossings,
    reason: found.reason,
  };
  const limits = points.map(({ index, limits: own, plain }) => ({
    start: starts[index],
    lower: orNull(own.lower),
    upper: orNull(own.upper),
    beyond: own.beyond,
    plainLower: orNull(plain?.lower),
    plainUpper: orNull(plain?.upper),
    plainBeyond: plain?.beyond ?? null,
  }));
  return {
    kind,
    points: points.length,
    baselinePoints,
    run,
    limits,
    limitsReason,
    runSays: runWords(run, per),
    limitsSay: limitWords({ limits, limitsReason }, per),
  };
}
