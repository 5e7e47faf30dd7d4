import type { UnitAuditInput } from './audit-settings.js';
import { type MeasuredCourse, timeMeasures } from './time-measures.js';
import { type TimePoint, timePoints } from './time-points.js';
import { type TimeView, timeViews } from './time-views.js';

/** One measure over time with its views. */
export interface TimeCourse extends MeasuredCourse {
  /** None of monitored time, which is told beside the others, and where a reason stands. */
  readonly views: readonly TimeView[];
}

/** All measures over the weeks or months of the period. */
export interface OverTime {
  readonly points: readonly TimePoint[];
  readonly courses: readonly TimeCourse[];
}

/** Alarms, their share that was true, and how soon they were answered, by week or month. */
export function overTime(input: UnitAuditInput): OverTime {
  const points = timePoints(input);
  return {
    points,
    courses: timeMeasures(input, points).map((course) => ({
      ...course,
      views: course.reason === null ? timeViews(course.measure, points, course.points) : [],
    })),
  };
}
