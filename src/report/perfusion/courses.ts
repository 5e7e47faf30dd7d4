import type { MinuteCourse } from '../../summarize/perfusion/minute-course.js';
import type { PerfusionSummary } from '../../summarize/perfusion/summarize-perfusion.js';
import type { PerfusionResult } from '../results-perfusion.js';

/** Values a minute for the charts of perfusion; null where there are none. */
export interface PerfusionCourses {
  readonly prx: MinuteCourse | null;
  readonly minuteIndex: MinuteCourse | null;
  readonly optimalCpp: MinuteCourse | null;
  readonly rap: MinuteCourse | null;
}

/** The courses that a summary holds. */
export const coursesOf = ({ courses, optimal, pulse }: PerfusionSummary): PerfusionCourses => ({
  ...courses,
  optimalCpp:
    optimal === null || typeof optimal === 'string'
      ? null
      : { firstEnd: optimal.course.firstEnd, values: optimal.course.optimal },
  rap: pulse?.rap ?? null,
});

/** Which index the picture shows: PRx, or the variant from minute data where that alone can be had; none that cannot be judged. */
export function shownIndex({ prx, minuteIndex, prxDoubt }: PerfusionResult): 'prx' | 'minuteIndex' | null {
  if (prxDoubt !== null) return null;
  return prx.mean !== null ? 'prx' : minuteIndex.mean !== null ? 'minuteIndex' : null;
}
