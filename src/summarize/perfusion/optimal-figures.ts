import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';
import { type Figure, type WithReasons, withReasons } from '../figure.js';
import { HOUR_MS } from '../hour.js';
import { binMeans } from './bin-means.js';
import { CppBins, type Curve, PRX_LIMIT, transformed } from './cpp-bins.js';
import { countKnown, meanKnown, valuesIn } from './index-figures.js';
import { MINUTE_MS, type MinuteCourse } from './minute-course.js';
import { movingCorrelation, movingMean } from './moving-correlation.js';
import { OPTIMAL_WINDOW_MINUTES, type OptimalCourse, optimalCourse } from './optimal-cpp.js';
import { phaseShuffled } from './phase-shuffled.js';
import type { Reactivity } from './reactivity.js';

/** CPP further than this under optimal CPP counts, mmHg. */
export const BELOW_OPTIMAL_MMHG = 5;
/** Phase-shuffled copies whose yield is averaged. */
const SHUFFLES = 10;
/** The copies are the same in every run. */
const SEED = 20_310_211;

/** One bin of the index by CPP. */
export interface CurveBin {
  readonly fromMmHg: number;
  readonly count: number;
  readonly meanZ: number;
  readonly isFitted: boolean;
}

/** Optimal CPP over a period. Investigational. */
export interface OptimalFigures
  extends WithReasons<
    | 'meanOptimalMmHg'
    | 'meanDifferenceMmHg'
    | 'hoursBelow'
    | 'yieldShare'
    | 'shuffledYieldShare'
    | 'meanLowerLimitMmHg'
    | 'meanUpperLimitMmHg'
  > {
  readonly minutesWithCurve: number;
  /** Those at which CPP was known too: what difference and hours below are of. */
  readonly minutesCompared: number;
  readonly minutesWithLowerLimit: number;
  readonly minutesWithUpperLimit: number;
  readonly shuffles: number;
  /** Minute by minute over the period. */
  readonly course: OptimalCourse;
  /** Mean CPP of 5 min, minute by minute over the period, mmHg. */
  readonly cpp: MinuteCourse;
  /** Of the whole period at once. */
  readonly bins: readonly CurveBin[];
  readonly curve: Curve | string;
}

/** Of the minutes that asked for a curve, the share that got one; NaN where none asked. */
export const yieldOf = ({ optimal, wasAsked }: OptimalCourse): number =>
  countKnown(optimal) / wasAsked.reduce((sum, asked) => sum + asked, 0);

/** The yield where MAP has nothing to do with ICP: the mean over copies of MAP with their phases shuffled. */
export function shuffledYield(
  { form, grid, icp, map }: Reactivity,
  cpp: Float64Array,
  start: number,
): number {
  const random = xoroshiro128plus(SEED);
  let sum = 0;
  for (let copy = 0; copy < SHUFFLES; copy++) {
    const shuffled = phaseShuffled(map, random);
    const prx = movingCorrelation(icp, shuffled, grid, form);
    const own = cpp.map((x, k) => x - map[k] + shuffled[k]);
    sum += yieldOf(optimalCourse(prx, movingMean(own, grid, form).values, start));
  }
  return sum / SHUFFLES;
}

/**
 * Optimal CPP over a period from PRx, the yield beside that of chance, and the curve of all minutes together.
 *
 * @param prx with 4 h of lead before the period, where there are any
 * @param cpp as all figures of CPP see it
 * @param intervalMs of CPP
 */
export function optimalFigures(
  prx: Reactivity,
  cpp: Signal,
  intervalMs: number,
  period: Interval,
): OptimalFigures {
  const { form, grid, whole: index } = prx;
  const cppBins = binMeans(cpp, intervalMs, grid);
  const ofCpp = movingMean(cppBins, grid, form);
  const course = optimalCourse(index, ofCpp.values, period.start);
  const cppInside: MinuteCourse = { firstEnd: course.firstEnd, values: valuesIn(ofCpp, period) };
  const differences = course.optimal.map((optimal, i) => cppInside.values[i] - optimal);
  const minutesWithCurve = countKnown(course.optimal);
  const asked = course.wasAsked.some((one) => one === 1);
  const why = asked
    ? 'no curve was accepted at any minute'
    : `less than half of ${OPTIMAL_WINDOW_MINUTES / 60} h of PRx was known at any minute`;
  const orWhy = (value: () => number): Figure => (minutesWithCurve === 0 ? { reason: why } : value());
  const minutesCompared = countKnown(differences);
  const compared = (value: () => number): Figure =>
    minutesWithCurve > 0 && minutesCompared === 0
      ? { reason: 'CPP was known at no minute that has a curve' }
      : orWhy(value);
  const limit = (of: Float64Array): Figure =>
    countKnown(of) === 0
      ? { reason: minutesWithCurve === 0 ? why : `the curve reached ${PRX_LIMIT} on this side at no minute` }
      : meanKnown(of);
  const askedOr = (value: () => number): Figure => (asked ? value() : { reason: why });
  const all = new CppBins();
  const z = valuesIn(index, period).map(transformed);
  z.forEach((one, i) => {
    if (!Number.isNaN(one) && !Number.isNaN(cppInside.values[i])) all.add(cppInside.values[i], one);
  });
  return {
    ...withReasons({
      meanOptimalMmHg: orWhy(() => meanKnown(course.optimal)),
      meanDifferenceMmHg: compared(() => meanKnown(differences)),
      hoursBelow: compared(
        () => (differences.filter((x) => x < -BELOW_OPTIMAL_MMHG).length * MINUTE_MS) / HOUR_MS,
      ),
      yieldShare: askedOr(() => yieldOf(course)),
      shuffledYieldShare: askedOr(() => shuffledYield(prx, cppBins, period.start)),
      meanLowerLimitMmHg: limit(course.lower),
      meanUpperLimitMmHg: limit(course.upper),
    }),
    minutesWithCurve,
    minutesCompared,
    minutesWithLowerLimit: countKnown(course.lower),
    minutesWithUpperLimit: countKnown(course.upper),
    shuffles: SHUFFLES,
    course,
    cpp: cppInside,
    bins: all.bins(all.size),
    curve: all.curve(all.size),
  };
}
