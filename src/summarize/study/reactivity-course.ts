import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import type { Figure } from '../figure.js';
import { binMeans } from '../perfusion/bin-means.js';
import { isNoBetterThanChance } from '../perfusion/chance-yield.js';
import { countKnown, meanKnown, valuesIn } from '../perfusion/index-figures.js';
import type { MinuteCourse } from '../perfusion/minute-course.js';
import { movingMean } from '../perfusion/moving-correlation.js';
import { optimalCourse } from '../perfusion/optimal-cpp.js';
import { shuffledYield, yieldOf } from '../perfusion/optimal-figures.js';
import { PRX, type Reactivity, reactivityIn } from '../perfusion/reactivity.js';
import type { StudySignals } from './study-signals.js';

/** PRx and CPP less optimal CPP over the time of a study, minute by minute. */
export interface ReactivityCourse {
  readonly prx: MinuteCourse;
  /**
   * Mean CPP of 5 min less optimal CPP, mmHg; NaN where one of the two is not known. Investigational. A text says why there
   * is none, as where chance finds a curve as often.
   */
  readonly lessOptimal: MinuteCourse | string;
}

/**
 * Both courses over all windows at once, since each minute rests on up to 4 h before it and on nothing
 * behind it; whether optimal CPP can be read is judged over all of them.
 *
 * @param whole from the start of the first window to the end of the last; the first 5 min of PRx may begin before it
 * @returns why there are none, as a text
 */
export function reactivityCourse(study: StudySignals, whole: Interval): ReactivityCourse | string {
  const { signals, intervalMs, whyNoPrx, hasOptimal } = study;
  if (whyNoPrx !== null) return whyNoPrx;
  if (intervalMs.map === 0) return 'there is no arterial pressure';
  const icp = { signal: signals.icp, intervalMs: intervalMs.icp };
  const map = { signal: signals.map, intervalMs: intervalMs.map };
  const reactivity = reactivityIn(icp, map, PRX, whole);
  if (typeof reactivity === 'string') return reactivity;
  const { course } = reactivity;
  if (!hasOptimal) return { prx: course, lessOptimal: 'optimal CPP was not asked for' };
  return {
    prx: course,
    lessOptimal: lessOptimalCourse(reactivity, signals.cpp, Math.max(icp.intervalMs, map.intervalMs), whole),
  };
}

/** Held against chance as on the page of perfusion: where MAP with shuffled phases finds as many curves, nothing is read. */
function lessOptimalCourse(
  prx: Reactivity,
  cpp: Signal,
  intervalMs: number,
  whole: Interval,
): MinuteCourse | string {
  const { form, grid, whole: index } = prx;
  const cppBins = binMeans(cpp, intervalMs, grid);
  const ofCpp = movingMean(cppBins, grid, form);
  const course = optimalCourse(index, ofCpp.values, whole.start);
  if (countKnown(course.optimal) === 0) return 'no optimal CPP was found at any minute';
  const yields = {
    yieldShare: yieldOf(course),
    shuffledYieldShare: shuffledYield(prx, cppBins, whole.start),
  };
  if (isNoBetterThanChance(yields)) {
    return 'curves of optimal CPP were found too seldom, or no more often than chance finds them';
  }
  const inside = valuesIn(ofCpp, whole);
  return { firstEnd: course.firstEnd, values: course.optimal.map((best, i) => inside[i] - best) };
}

/** Mean CPP less optimal CPP over a window, mmHg. Investigational. */
export function meanLessOptimal(course: ReactivityCourse | string, window: Interval): Figure {
  if (typeof course === 'string') return { reason: course };
  if (typeof course.lessOptimal === 'string') return { reason: course.lessOptimal };
  const values = valuesIn(course.lessOptimal, window);
  return countKnown(values) === 0 ? { reason: 'no optimal CPP was found at any minute' } : meanKnown(values);
}
