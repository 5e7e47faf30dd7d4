import type { MinuteCourse } from '../../summarize/perfusion/minute-course.js';
import type { PerfusionResult } from '../results-schema.js';

/** Values a minute for the charts of perfusion; null where there are none. */
export interface PerfusionCourses {
  readonly prx: MinuteCourse | null;
  readonly minuteIndex: MinuteCourse | null;
  readonly optimalCpp: MinuteCourse | null;
  readonly rap: MinuteCourse | null;
}

/** The courses of a patient of whom there are none. */
export const NO_COURSES: PerfusionCourses = { prx: null, minuteIndex: null, optimalCpp: null, rap: null };

/** Which index the picture shows: PRx, or the variant from minute data where that alone can be had. */
export const shownIndex = ({ prx, minuteIndex }: PerfusionResult): 'prx' | 'minuteIndex' | null =>
  prx.mean !== null ? 'prx' : minuteIndex.mean !== null ? 'minuteIndex' : null;
