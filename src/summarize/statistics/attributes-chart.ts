import { type ControlPoint, judged, LIMIT_SIGMAS, unjudged } from './control-chart.js';
import { insist } from './estimate.js';
import { movingRangeSigma } from './moving-range.js';

/** What the limits of a chart of counts rest on. */
export interface AttributesBaseline {
  /** All that was counted, divided by all sizes. */
  readonly centreLine: number;
  /** How much more points vary than chance alone would have it; 1 where only chance counts. */
  readonly sigmaZ: number;
}

export interface AttributesChart {
  /** Of these counts or carried over; to be carried over. Null where a reason stands. */
  readonly baseline: AttributesBaseline | null;
  readonly reason: string | null;
  readonly points: readonly ControlPoint[];
}

/** How a kind of count varies by chance. */
export interface CountKind {
  /** Standard deviation by chance of a point of a size around the centre line. */
  readonly sigma: (centreLine: number, size: number) => number;
  /** No point can be higher. */
  readonly highest: number;
  /** Whether sigma z is measured (Laney), or 1. */
  readonly isLaney: boolean;
}

const NOTHING = 'nothing was counted on at this point';
const ONE_POINT = 'how much points vary beyond chance needs two points, and there are fewer';
const NO_SPREAD = 'it happened never or always, so that nothing tells how far points would vary';

/**
 * Limits at the centre line +- 3 sigma z times the standard deviation by chance, for each point by its own size. Sigma z
 * is 1, or after Laney the mean moving range of the points' z scores divided by 1.128.
 *
 * @param counts 0 or more, in order of time
 * @param sizes what each is counted on: 0 or more; a point of size 0 has no value
 */
export function attributesChart(
  counts: readonly number[],
  sizes: readonly number[],
  kind: CountKind,
  baseline: AttributesBaseline | null,
): AttributesChart {
  insist(
    counts.length === sizes.length,
    `a size for each of ${counts.length} counts, and got ${sizes.length}`,
  );
  const areCounts = [...counts, ...sizes].every((x) => x >= 0 && x < Number.POSITIVE_INFINITY);
  insist(areCounts, 'counts and sizes that are finite and not negative');
  insist(
    counts.every((count, i) => sizes[i] > 0 || count === 0),
    'no count where the size is 0',
  );
  const own = baseline ?? ownBaseline(counts, sizes, kind);
  const valueAt = (i: number) => (sizes[i] > 0 ? counts[i] / sizes[i] : { reason: NOTHING });
  if (typeof own === 'string') {
    return { baseline: null, reason: own, points: counts.map((_, i) => unjudged(valueAt(i), own)) };
  }
  const points = counts.map((_, i) => {
    const value = valueAt(i);
    if (typeof value !== 'number') return unjudged(value, NOTHING);
    const reach = LIMIT_SIGMAS * own.sigmaZ * kind.sigma(own.centreLine, sizes[i]);
    return judged(value, Math.max(0, own.centreLine - reach), Math.min(kind.highest, own.centreLine + reach));
  });
  return { baseline: own, reason: null, points };
}

/** The reason where there is none, as a text. */
function ownBaseline(
  counts: readonly number[],
  sizes: readonly number[],
  { sigma, isLaney }: CountKind,
): AttributesBaseline | string {
  const total = sizes.reduce((sum, x) => sum + x, 0);
  if (total === 0) return 'there is nothing to count on';
  const centreLine = counts.reduce((sum, x) => sum + x, 0) / total;
  if (!(sigma(centreLine, total) > 0)) return NO_SPREAD;
  if (!isLaney) return { centreLine, sigmaZ: 1 };
  const scores = counts.flatMap((count, i) =>
    sizes[i] > 0 ? [(count / sizes[i] - centreLine) / sigma(centreLine, sizes[i])] : [],
  );
  return scores.length < 2 ? ONE_POINT : { centreLine, sigmaZ: movingRangeSigma(scores) };
}
