import { type WithReasons, withReasons } from '../figure.js';
import type { MinuteCourse } from './minute-course.js';

/** Mean PRx over the minutes whose CPP lies in a band; the first and the last band are open, pressures in mmHg. */
export interface PrxInBand extends WithReasons<'meanPrx'> {
  readonly fromMmHg: number | null;
  readonly toMmHg: number | null;
  readonly minutes: number;
}

/**
 * Mean PRx by bands of CPP, closed below and open above but for the last inner one, which is closed on both sides. What
 * was measured, and no curve: the means of all bands, weighted by their minutes, are the mean of all minutes.
 *
 * @param prx minute by minute
 * @param cpp mean CPP of the same windows, with the same stamps
 * @param edgesMmHg rising
 */
export function prxByCpp(prx: MinuteCourse, cpp: MinuteCourse, edgesMmHg: readonly number[]): PrxInBand[] {
  const sums = Array.from({ length: edgesMmHg.length + 1 }, () => ({ sum: 0, minutes: 0 }));
  const lastEdge = edgesMmHg.length - 1;
  prx.values.forEach((r, i) => {
    const mmHg = cpp.values[i] ?? Number.NaN;
    if (Number.isNaN(r) || Number.isNaN(mmHg)) return;
    const over = edgesMmHg.findIndex((edge, k) => (k === lastEdge ? mmHg <= edge : mmHg < edge));
    const band = sums[over < 0 ? edgesMmHg.length : over];
    band.sum += r;
    band.minutes++;
  });
  return sums.map(({ sum, minutes }, i) => ({
    fromMmHg: edgesMmHg[i - 1] ?? null,
    toMmHg: edgesMmHg[i] ?? null,
    minutes,
    ...withReasons({
      meanPrx: minutes === 0 ? { reason: 'no minute with PRx in this band' } : sum / minutes,
    }),
  }));
}
