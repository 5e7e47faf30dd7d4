import { CppBins, transformed } from './cpp-bins.js';
import { MINUTE_MS, type MinuteCourse } from './minute-course.js';

/** Minutes of the window. */
export const OPTIMAL_WINDOW_MINUTES = 240;
/** At least this share of its PRx has to be there. */
const LEAST_VALID = 0.5;

/** Optimal CPP minute by minute, mmHg; NaN where no curve was accepted. Investigational. */
export interface OptimalCourse {
  readonly firstEnd: number;
  readonly optimal: Float64Array;
  /** Of the range over which the curve stays under the limit; NaN where it does not reach it inside the bins. */
  readonly lower: Float64Array;
  readonly upper: Float64Array;
  /** 1 where the window held enough PRx for a curve to be asked for. */
  readonly wasAsked: Uint8Array;
}

/**
 * Optimal CPP every minute over the 4 h before it. A minute costs the same however long the window is. Definition and
 * sources: `CppBins.curve`.
 *
 * @param prx and `cpp`, the mean of the same 5 min in mmHg, minute by minute from the same time on
 * @param start minutes that end at or before it only lead in
 */
export function optimalCourse(prx: MinuteCourse, cpp: Float64Array, start: number): OptimalCourse {
  const n = prx.values.length;
  const skip = Math.min(n, Math.max(0, Math.floor((start - prx.firstEnd) / MINUTE_MS) + 1));
  const none = (): Float64Array => new Float64Array(n - skip).fill(Number.NaN);
  const [optimal, lower, upper] = [none(), none(), none()];
  const wasAsked = new Uint8Array(n - skip);
  const z = prx.values.map(transformed);
  const bins = new CppBins();
  const isThere = (i: number): boolean => !Number.isNaN(z[i]) && !Number.isNaN(cpp[i]);
  for (let i = 0; i < n; i++) {
    if (isThere(i)) bins.add(cpp[i], z[i]);
    const gone = i - OPTIMAL_WINDOW_MINUTES;
    if (gone >= 0 && isThere(gone)) bins.remove(cpp[gone], z[gone]);
    if (i < skip || bins.size < LEAST_VALID * OPTIMAL_WINDOW_MINUTES) continue;
    wasAsked[i - skip] = 1;
    const curve = bins.curve(OPTIMAL_WINDOW_MINUTES);
    if (typeof curve === 'string') continue;
    optimal[i - skip] = curve.optimalMmHg;
    lower[i - skip] = curve.lowerMmHg;
    upper[i - skip] = curve.upperMmHg;
  }
  return { firstEnd: prx.firstEnd + skip * MINUTE_MS, optimal, lower, upper, wasAsked };
}
