import {
  type AttributesBaseline,
  type AttributesChart,
  attributesChart,
  type CountKind,
} from './attributes-chart.js';

const RATE: CountKind = {
  sigma: (rate, exposure) => Math.sqrt(rate / exposure),
  highest: Number.POSITIVE_INFINITY,
  isLaney: false,
};

/**
 * Chart of rates (alarms per monitored day), with limits at u +- 3 sqrt(u / exposure) for each point's own exposure, not
 * under 0. It takes each one counted as independent. Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.3.1, with
 * the exposure as the size of the unit.
 *
 * @param counts whole, of each point, in order of time
 * @param exposures over which each was counted, in the unit that the rate is per
 * @param baseline of an earlier chart, whose centre line is carried over
 * @returns a reason and no limits where nothing was counted at all
 */
export const uChart = (
  counts: readonly number[],
  exposures: readonly number[],
  baseline: AttributesBaseline | null = null,
): AttributesChart => attributesChart(counts, exposures, RATE, baseline && { ...baseline, sigmaZ: 1 });

/**
 * Laney's u' chart, of rates whose counts belong together (alarms of one patient): the limits of the u chart, wider by
 * sigma z, the mean moving range of the points' z scores divided by 1.128; narrower where it is under 1. Source: Laney,
 * Quality Engineering 2002;14:531-7.
 *
 * @param counts whole, of each point, in order of time
 * @param exposures over which each was counted, in the unit that the rate is per
 * @param baseline of an earlier chart, whose centre line and sigma z are carried over
 * @returns a reason and no limits where there are fewer than two points, or nothing was counted at all
 */
export const laneyUChart = (
  counts: readonly number[],
  exposures: readonly number[],
  baseline: AttributesBaseline | null = null,
): AttributesChart => attributesChart(counts, exposures, { ...RATE, isLaney: true }, baseline);
