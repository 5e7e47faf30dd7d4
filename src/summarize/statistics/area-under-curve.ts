import type { Figure } from '../figure.js';
import { type Estimate, insist, noBounds, noEstimate } from './estimate.js';
import { midranks } from './midranks.js';
import { normalReach } from './normal-reach.js';
import { twoSidedTail } from './tails.js';

/** The area under the ROC curve, with its interval. */
export interface Area extends Estimate {
  readonly standardError: Figure;
  /** How many have the event, and how many have not. */
  readonly withEvent: number;
  readonly withoutEvent: number;
}

/** Two areas of the same patients. */
export interface AreaDifference extends Estimate {
  readonly standardError: Figure;
  /** Of no difference, two-sided. */
  readonly p: Figure;
}

const ONE_GROUP = 'all or none have the event, so that there is nobody to compare with';
const ONE_EACH = 'how far off the area may be needs two patients with the event and two without';
const COMPLETE =
  'the values part all with the event from all without it, so that nothing tells how far off it may be';
const CONSTANT = 'all values are the same';
const NOTHING_VARIES =
  'the two differ alike in all patients, so that nothing tells how far off the difference may be';

/**
 * The area under the ROC curve: how often a patient with the event has the higher value of two, one with it and one
 * without; same values count one half. It is W / (n1 n2) of the rank sum test. Variance of DeLong, in the time that
 * sorting takes; the normal interval is cut to what an area can be. As pROC's `roc(direction = "<")` and `ci.auc`. Sources:
 * DeLong, DeLong & Clarke-Pearson, Biometrics 1988;44:837-45; Sun & Xu, IEEE Signal Process Lett 2014;21:1389-93.
 *
 * @param values finite; higher ones are held to speak for the event
 * @param events true or 1 of each who has it, false or 0 else
 * @param level share of the interval
 * @returns reasons where all or none have it, and for bounds where the area is 0 or 1, all values are the same, or a side has one patient
 * @throws RangeError where lists differ in length or hold something else
 */
export function areaUnderCurve(
  values: ArrayLike<number>,
  events: ArrayLike<number | boolean>,
  level = 0.95,
): Area {
  const z = normalReach(level);
  const sides = sidesOf(events);
  const [m, n] = [sides.having.length, sides.free.length];
  const counts = { withEvent: m, withoutEvent: n };
  const parts = placements(values, sides);
  if (parts === null) return { ...counts, ...noEstimate(ONE_GROUP), standardError: { reason: ONE_GROUP } };
  const { area } = parts;
  const variance = Math.min(m, n) < 2 ? null : covarianceOf(parts, parts);
  if (variance === null || !(variance > 0)) {
    const reason = variance === null ? ONE_EACH : area === 0.5 ? CONSTANT : COMPLETE;
    return { ...counts, value: area, ...noBounds(reason), standardError: { reason } };
  }
  const standardError = Math.sqrt(variance);
  return {
    ...counts,
    value: area,
    standardError,
    lower: Math.max(0, area - z * standardError),
    upper: Math.min(1, area + z * standardError),
  };
}

/**
 * The difference of two areas of the same patients, first less second, with DeLong's test. As pROC's
 * `roc.test(paired = TRUE, method = "delong")`. Source: as `areaUnderCurve`.
 *
 * @throws RangeError where lists differ in length or hold something else
 */
export function compareAreas(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  events: ArrayLike<number | boolean>,
  level = 0.95,
): AreaDifference {
  const z = normalReach(level);
  const sides = sidesOf(events);
  const a = placements(first, sides);
  const b = placements(second, sides);
  const none = (reason: string) => ({ standardError: { reason }, p: { reason } });
  if (a === null || b === null) return { ...noEstimate(ONE_GROUP), ...none(ONE_GROUP) };
  const value = a.area - b.area;
  if (Math.min(sides.having.length, sides.free.length) < 2) {
    return { value, ...noBounds(ONE_EACH), ...none(ONE_EACH) };
  }
  const variance = covarianceOf(a, a) + covarianceOf(b, b) - 2 * covarianceOf(a, b);
  // What is left of the same variances by rounding is no variance.
  if (!(variance > 1e-14)) return { value, ...noBounds(NOTHING_VARIES), ...none(NOTHING_VARIES) };
  const standardError = Math.sqrt(variance);
  return {
    value,
    standardError,
    lower: Math.max(-1, value - z * standardError),
    upper: Math.min(1, value + z * standardError),
    p: twoSidedTail(value / standardError),
  };
}

/** Places in the lists of those with the event and of those without. */
interface Sides {
  readonly count: number;
  readonly having: readonly number[];
  readonly free: readonly number[];
}

function sidesOf(events: ArrayLike<number | boolean>): Sides {
  const flags = Array.from(events, Number);
  insist(
    flags.every((flag) => flag === 0 || flag === 1),
    'events that are true or false',
  );
  const places = (wanted: number) => flags.flatMap((flag, i) => (flag === wanted ? [i] : []));
  return { count: flags.length, having: places(1), free: places(0) };
}

/** For each patient the share of the other side that is on the expected side of it. */
interface Placements {
  readonly area: number;
  readonly having: Float64Array;
  readonly free: Float64Array;
}

function placements(values: ArrayLike<number>, { count, having, free }: Sides): Placements | null {
  insist(values.length === count, `a value for each of ${count} events, and got ${values.length}`);
  insist(Array.from(values).every(Number.isFinite), 'finite values');
  const [m, n] = [having.length, free.length];
  if (m === 0 || n === 0) return null;
  const all = midranks(values).ranks;
  const amongHaving = midranks(having.map((i) => values[i])).ranks;
  const amongFree = midranks(free.map((i) => values[i])).ranks;
  const ofHaving = Float64Array.from(having, (i, k) => (all[i] - amongHaving[k]) / n);
  const ofFree = Float64Array.from(free, (i, k) => 1 - (all[i] - amongFree[k]) / m);
  // Ranks are halves, so their sum is exact, and so is that of an area and its mirror image.
  const sum = having.reduce((total, i) => total + all[i], 0);
  return { area: (sum - (m * (m + 1)) / 2) / (m * n), having: ofHaving, free: ofFree };
}

/** Of two areas of the same patients. */
const covarianceOf = (a: Placements, b: Placements): number =>
  meanCovariance(a.having, b.having, a.area, b.area) + meanCovariance(a.free, b.free, a.area, b.area);

/** Covariance of the means of two lists with known means. */
function meanCovariance(a: Float64Array, b: Float64Array, meanA: number, meanB: number): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] - meanA) * (b[i] - meanB);
  return sum / ((a.length - 1) * a.length);
}
