import { median } from '../../recording/rolling-median.js';
import type { AttributesBaseline } from '../statistics/attributes-chart.js';
import type { ControlPoint } from '../statistics/control-chart.js';
import { type IndividualsBaseline, individualsChart } from '../statistics/individuals-chart.js';
import { laneyPChart, pChart } from '../statistics/p-chart.js';
import { LEAST_USEFUL, type RunChart, runChartSignals } from '../statistics/run-chart.js';
import { laneyUChart, uChart } from '../statistics/u-chart.js';
import type { MeasuredPoint, TimeMeasure } from './time-measures.js';
import type { TimePoint } from './time-points.js';

/** A median from fewer points is off itself, so that a stable course signals more often. Simulated: `runChartSignals`. */
export const LONG_BASELINE = 24;

export const VIEW_KINDS = ['all', 'baseline', 'carried', 'rebased'] as const;
/**
 * `all`: no change is marked. `baseline`: the points wholly before it. `carried`: the points after it around the median and
 * within the limits of those before. `rebased`: the points after it around their own.
 */
export type ViewKind = (typeof VIEW_KINDS)[number];

/** A point of a view with its limits. */
export interface LimitedPoint {
  /** Index in the points of the chart. */
  readonly index: number;
  /** With more spread than chance alone has, as measured (Laney), or of single values. */
  readonly limits: ControlPoint;
  /** As if each one counted were independent; null of single values. */
  readonly plain: ControlPoint | null;
}

/** Some of the points of a course, looked at together. */
export interface TimeView {
  readonly kind: ViewKind;
  /** Points with a value; those of the run chart are counted along them. */
  readonly points: readonly LimitedPoint[];
  /** Points that the median and the limits come from. */
  readonly baselinePoints: number;
  /** Of the run chart: the line is the median. */
  readonly run: RunChart;
  /** Why no limits are told; null where they are. */
  readonly limitsReason: string | null;
}

/** A point with its value. */
interface Valued {
  readonly index: number;
  readonly count: number;
  readonly size: number;
  readonly value: number;
}

/** Limits of a course, of its own or carried over from another. */
interface Limits {
  readonly laney: readonly ControlPoint[];
  readonly plain: readonly ControlPoint[] | null;
  readonly baseline: AttributesBaseline | IndividualsBaseline | null;
  readonly reason: string | null;
}

function limitsOf(measure: TimeMeasure, list: readonly Valued[], carried: Limits['baseline'] = null): Limits {
  if (measure === 'medianMinutesToTreatment') {
    const chart = individualsChart(
      list.map(({ value }) => value),
      carried as IndividualsBaseline | null,
    );
    return { laney: chart.points, plain: null, baseline: chart.baseline, reason: chart.reason };
  }
  const [wide, narrow] = measure === 'alarmsPerDay' ? [laneyUChart, uChart] : [laneyPChart, pChart];
  const counts = list.map(({ count }) => count);
  const sizes = list.map(({ size }) => size);
  const chart = wide(counts, sizes, carried as AttributesBaseline | null);
  const plain = narrow(counts, sizes, carried as AttributesBaseline | null);
  return { laney: chart.points, plain: plain.points, baseline: chart.baseline, reason: chart.reason };
}

/** A view without any limit or signal. */
const withoutSignals = (run: RunChart, reason: string): RunChart => ({
  ...run,
  mostInRun: null,
  fewestCrossings: null,
  hasLongRun: null,
  hasFewCrossings: null,
  reason,
});

const tooFew = (points: number, where: string): string =>
  `too few to tell: ${points} points${where}, and ${LEAST_USEFUL} are needed`;

function viewOf(
  kind: ViewKind,
  measure: TimeMeasure,
  list: readonly Valued[],
  from: readonly Valued[],
): TimeView {
  const isCarried = from !== list;
  const values = list.map(({ value }) => value);
  const run = runChartSignals(values, isCarried ? median(from.map(({ value }) => value)) : undefined);
  const reason =
    from.length < LEAST_USEFUL
      ? tooFew(from.length, isCarried ? ' before the change' : '')
      : list.length < LEAST_USEFUL && !isCarried
        ? tooFew(list.length, '')
        : null;
  const own = limitsOf(measure, from);
  const limits = isCarried && own.baseline !== null ? limitsOf(measure, list, own.baseline) : own;
  const limitsReason = reason ?? own.reason;
  const nothing = (value: number): ControlPoint => {
    const why = { reason: limitsReason ?? '' };
    return { value, lower: why, upper: why, beyond: null };
  };
  return {
    kind,
    points: list.map(({ index, value }, i) => ({
      index,
      limits: limitsReason === null ? limits.laney[i] : nothing(value),
      plain: limits.plain === null ? null : limitsReason === null ? limits.plain[i] : nothing(value),
    })),
    baselinePoints: from.length,
    run: reason !== null ? withoutSignals(run, reason) : run,
    limitsReason,
  };
}

/**
 * The views of a course: one over all where no change is marked; else the points before it by themselves, the points after
 * it held against those before, and, where there are 12 or more, the points after it by themselves. A point across the
 * change is in none. Fewer than 12 points give no signal and no limits.
 */
export function timeViews(
  measure: TimeMeasure,
  points: readonly TimePoint[],
  measured: readonly MeasuredPoint[],
): TimeView[] {
  if (measure === 'monitoredDays') return [];
  const valued = measured.flatMap(({ count, size, value }, index): Valued[] =>
    typeof value === 'number' ? [{ index, count: count ?? 0, size: size ?? 0, value }] : [],
  );
  const part = (name: TimePoint['part']): Valued[] =>
    valued.filter(({ index }) => points[index].part === name);
  const [all, before, after] = [part('all'), part('before'), part('after')];
  if (points.every((point) => point.part === 'all')) return [viewOf('all', measure, all, all)];
  // A change beside the data leaves nothing to compare.
  if (before.length === 0 || after.length === 0) return [viewOf('all', measure, valued, valued)];
  return [
    viewOf('baseline', measure, before, before),
    viewOf('carried', measure, after, before),
    ...(after.length >= LEAST_USEFUL ? [viewOf('rebased', measure, after, after)] : []),
  ];
}
