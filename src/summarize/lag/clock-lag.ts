import type { Interval } from '../../recording/interval.js';
import { gridIn } from '../perfusion/bin-grid.js';
import { binMeans, whyNoBins } from '../perfusion/bin-means.js';
import type { Sampled } from '../perfusion/reactivity.js';
import { autocorrelation, type CrossCorrelation, crossCorrelations } from './cross-correlation.js';
import { slowFluctuations } from './slow-fluctuations.js';

const BIN_MS = 10_000;
const MOST_LAG_BINS = 60;
/** Drift slower than a moving mean of 5 min is taken out. */
const HALF_DRIFT_BINS = 15;
/** Known in both for so long at every lag. */
const LEAST_BINS = 720;
/** The peak stands over chance by so many standard errors. */
const LEAST_ERRORS = 5;
/** Beyond its own slopes, which end where it is half as high, nothing is this high against it. */
const SLOPE_SHARE = 0.5;
const SECOND_SHARE = 0.75;
/** Its slopes end within so many bins on both sides. */
const MOST_SLOPE_BINS = 6;
/** In either half of the time the largest correlation lies within so many bins of the peak. */
const HALVES_BINS = 2;
/** What the way from heart to brain and the reaction of its vessels explain. Common practice, no source. */
export const PHYSIOLOGY_SECONDS = 30;

/** By how much MAP comes later than ICP, as far as their slow fluctuations tell. */
export interface ClockLag {
  /** Positive: what happens in ICP happens later in MAP. Null where it is not clear, for the reason. */
  readonly lagSeconds: number | null;
  /** Correlation at that lag; of either sign. */
  readonly correlation: number | null;
  readonly reason: string | null;
  /** True where the lag is clear and more than physiology explains: the clocks may be apart. */
  readonly isApart: boolean;
}

const unknown = (reason: string): ClockLag => ({
  lagSeconds: null,
  correlation: null,
  reason,
  isApart: false,
});

const largest = (r: Float64Array): number =>
  r.reduce((best, x, i) => (Math.abs(x) > Math.abs(r[best]) ? i : best), 0);

/** The bin before which half of the pairs of lag 0 lie. */
function middleOf(a: Float64Array, b: Float64Array): number {
  const isPair = (i: number): boolean => !Number.isNaN(a[i]) && !Number.isNaN(b[i]);
  const pairs = Array.from(a.keys()).filter(isPair);
  return pairs[pairs.length >> 1] ?? 0;
}

/** Standard error of a correlation of unrelated series that are each correlated in time. Source: Bartlett, J R Stat Soc Suppl 1946;8:27-41 (value from memory). */
function errorByChance(a: Float64Array, b: Float64Array, pairs: number): number {
  const [ofA, ofB] = [a, b].map((series) => autocorrelation(series, 2 * HALF_DRIFT_BINS));
  const sum = ofA.reduce((all, r, lag) => all + (lag === 0 ? 1 : 2) * r * ofB[lag], 0);
  return Math.sqrt(Math.max(sum, 1) / pairs);
}

/** True where the peak has slopes of its own and nothing beyond them comes near it. */
function isAlone(r: Float64Array, peak: number): boolean {
  const height = Math.abs(r[peak]);
  const slopeEnd = (step: 1 | -1): number => {
    let at = peak + step;
    while (at >= 0 && at < r.length && Math.abs(r[at]) >= SLOPE_SHARE * height && r[at] * r[peak] > 0)
      at += step;
    return at;
  };
  const [left, right] = [slopeEnd(-1), slopeEnd(1)];
  if (left < 0 || right >= r.length) return false;
  if (Math.max(peak - left, right - peak) > MOST_SLOPE_BINS) return false;
  return r.every((x, i) => (i > left && i < right) || Math.abs(x) < SECOND_SHARE * height);
}

/** The lag of the peak between bins: the top of the parabola through it and its neighbours. */
function betweenBins(r: Float64Array, peak: number): number {
  const [before, at, behind] = [r[peak - 1], r[peak], r[peak + 1]];
  const bend = before - 2 * at + behind;
  return peak - MOST_LAG_BINS + (bend === 0 ? 0 : (before - behind) / (2 * bend));
}

const isSeenIn = ({ r }: CrossCorrelation, peak: number, sign: number): boolean => {
  const own = largest(r);
  return Math.abs(own - peak) <= HALVES_BINS && Math.sign(r[own]) === sign;
};

/**
 * By how much MAP lags behind ICP: the lag, from -10 to +10 min, at which the slow fluctuations of both go together most
 * (10-s means without what is slower than 5 min, clipped at three robust standard deviations), of either sign. A lag is
 * said where its peak is clear. Own convention: five standard errors over chance; seen within 20 s of it in either half
 * of the time; with slopes that end within 1 min; and no other lag with three quarters of its correlation, so that waves
 * which repeat themselves give none. Both have to be known for 2 h.
 */
export function clockLag(icp: Sampled, map: Sampled, period: Interval): ClockLag {
  if (map.signal.times.length === 0) return unknown('there is no MAP');
  const coarse = whyNoBins(Math.max(icp.intervalMs, map.intervalMs), BIN_MS);
  if (coarse !== null) return unknown(coarse);
  const [icpBins, mapBins] = [icp, map].map(({ signal, intervalMs }) =>
    binMeans(signal, intervalMs, gridIn(period, BIN_MS)),
  );
  const isKnown = (i: number): boolean => !Number.isNaN(icpBins[i]) && !Number.isNaN(mapBins[i]);
  const together = Array.from(icpBins.keys()).filter(isKnown).length;
  if (together < LEAST_BINS) {
    return unknown(
      `ICP and MAP are known together for ${Math.floor((together * BIN_MS) / 60_000)} min, and ${(LEAST_BINS * BIN_MS) / 60_000} min are needed`,
    );
  }
  const [a, b] = [icpBins, mapBins].map((bins) => slowFluctuations(bins, HALF_DRIFT_BINS));
  if (a === null || b === null) return unknown(`${a === null ? 'ICP' : 'MAP'} hardly varies in this time`);
  const { whole, parts } = crossCorrelations(a, b, MOST_LAG_BINS, middleOf(a, b));
  const { r, pairs } = whole;
  if (pairs.some((n) => n < LEAST_BINS / 2))
    return unknown('ICP and MAP are known together in scattered parts only');
  const peak = largest(r);
  const isClear =
    Math.abs(r[peak]) >= LEAST_ERRORS * errorByChance(a, b, pairs[peak]) &&
    isAlone(r, peak) &&
    parts.every((part) => isSeenIn(part, peak, Math.sign(r[peak])));
  if (!isClear)
    return unknown('the slow fluctuations of ICP and MAP go together at no lag more clearly than at others');
  const lagSeconds = (betweenBins(r, peak) * BIN_MS) / 1000;
  return {
    lagSeconds,
    correlation: r[peak],
    reason: null,
    isApart: Math.abs(lagSeconds) > PHYSIOLOGY_SECONDS,
  };
}
