import {
  type AttributesBaseline,
  type AttributesChart,
  attributesChart,
  type CountKind,
} from './attributes-chart.js';
import { insist } from './estimate.js';

const SHARE: CountKind = {
  sigma: (p, size) => Math.sqrt((p * (1 - p)) / size),
  highest: 1,
  isLaney: false,
};

/**
 * Chart of shares, with limits at p +- 3 sqrt(p (1 - p) / n) for each point's own n, kept between 0 and 1. It takes each
 * one counted as independent. Source: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.3.2.
 *
 * @param counts whole, of each point, in order of time
 * @param sizes whole, what each is a part of
 * @param baseline of an earlier chart, whose centre line is carried over
 * @returns a reason and no limits where it happened never or always
 */
export const pChart = (
  counts: readonly number[],
  sizes: readonly number[],
  baseline: AttributesBaseline | null = null,
): AttributesChart => shares(counts, sizes, SHARE, baseline && { ...baseline, sigmaZ: 1 });

/**
 * Laney's p' chart, of shares whose parts belong together (alarms of one patient): the limits of the p chart, wider by
 * sigma z, the mean moving range of the points' z scores divided by 1.128; narrower where it is under 1. Source: Laney,
 * Quality Engineering 2002;14:531-7.
 *
 * @param counts whole, of each point, in order of time
 * @param sizes whole, what each is a part of
 * @param baseline of an earlier chart, whose centre line and sigma z are carried over
 * @returns a reason and no limits where there are fewer than two points, or it happened never or always
 */
export const laneyPChart = (
  counts: readonly number[],
  sizes: readonly number[],
  baseline: AttributesBaseline | null = null,
): AttributesChart => shares(counts, sizes, { ...SHARE, isLaney: true }, baseline);

function shares(
  counts: readonly number[],
  sizes: readonly number[],
  kind: CountKind,
  baseline: AttributesBaseline | null,
): AttributesChart {
  insist(
    counts.every((count, i) => !(count > sizes[i])),
    'counts that are not larger than what they are a part of',
  );
  return attributesChart(counts, sizes, kind, baseline);
}
