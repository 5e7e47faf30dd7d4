import type { Interval } from '../../recording/interval.js';
import type { Figure } from '../figure.js';
import { binMeans } from '../perfusion/bin-means.js';
import { countKnown, meanKnown, valuesIn } from '../perfusion/index-figures.js';
import type { MinuteCourse } from '../perfusion/minute-course.js';
import { movingMean } from '../perfusion/moving-correlation.js';
import { optimalCourse } from '../perfusion/optimal-cpp.js';
import { PRX, reactivityIn } from '../perfusion/reactivity.js';
import type { StudySignals } from './study-signals.js';

/** PRx and CPP less optimal CPP over the time of a study, minute by minute. */
export interface ReactivityCourse {
  readonly prx: MinuteCourse;
  /** Mean CPP of 5 min less optimal CPP, mmHg; NaN where one of the two is not known. Investigational. */
  readonly lessOptimal: MinuteCourse;
}

/**
 * Both courses over all windows at once, since each minute rests on up to 4 h before it and on nothing behind it.
 *
 * @param whole from the start of the first window to the end of the last; nothing before it leads in
 * @returns why there are none, as a text
 */
export function reactivityCourse(study: StudySignals, whole: Interval): ReactivityCourse | string {
  const { signals, intervalMs, whyNoPrx } = study;
  if (whyNoPrx !== null) return whyNoPrx;
  if (intervalMs.map === 0) return 'there is no arterial pressure';
  const icp = { signal: signals.icp, intervalMs: intervalMs.icp };
  const map = { signal: signals.map, intervalMs: intervalMs.map };
  const reactivity = reactivityIn(icp, map, PRX, whole);
  if (typeof reactivity === 'string') return reactivity;
  const { form, grid, course, whole: withLead } = reactivity;
  const cpp = movingMean(binMeans(signals.cpp, Math.max(icp.intervalMs, map.intervalMs), grid), grid, form);
  const { firstEnd, optimal } = optimalCourse(withLead, cpp.values, whole.start);
  const ofCpp = valuesIn(cpp, whole);
  return { prx: course, lessOptimal: { firstEnd, values: optimal.map((best, i) => ofCpp[i] - best) } };
}

/** Mean CPP less optimal CPP over a window, mmHg. Investigational. */
export function meanLessOptimal(course: ReactivityCourse | string, window: Interval): Figure {
  if (typeof course === 'string') return { reason: course };
  const values = valuesIn(course.lessOptimal, window);
  return countKnown(values) === 0 ? { reason: 'no optimal CPP was found at any minute' } : meanKnown(values);
}
