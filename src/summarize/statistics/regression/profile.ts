import type { Figure } from '../../figure.js';
import { normalReach } from '../normal-reach.js';
import { chiSquareTail } from '../tails.js';
import { climb, type Hill, type Summit } from './climb.js';
import type { Design } from './design.js';
import { inverseOf } from './inverse.js';

/** What the likelihood itself says of one coefficient: all others take their best values at each of its own. */
export interface Profile {
  /** Bounds of the values that the likelihood ratio test does not refuse. */
  readonly lower: Figure;
  readonly upper: Figure;
  /** Of the likelihood ratio test of no effect, with one degree of freedom. */
  readonly p: Figure;
}

const NO_END = { reason: 'the search for the bound came to no end' };
const MOST_PARTS = 64;
const MOST_STRIDES = 60;
const MOST_CUTS = 60;
const NEAR = 1e-10;

/**
 * Interval and test of the coefficient of the last predictor by the profile of the likelihood, penalised or not. Sources:
 * Venzon & Moolgavkar, Appl Stat 1988;37:87-94; for Firth's: Heinze & Schemper, Stat Med 2002;21:2409-19.
 *
 * @param start where to look for the top from
 */
export function profileOfLast(
  hill: Hill,
  start: Float64Array,
  { triangle, width }: Design,
  level: number,
): Profile {
  const summit = climb(hill, start);
  if (summit === null || typeof summit === 'string') return { lower: NO_END, upper: NO_END, p: NO_END };
  const axis = start.length - 1;
  const scale = triangle.get(width - 1, width - 1);
  const z = normalReach(level);
  const covariance = inverseOf(summit.information);
  const unit = Math.sqrt(covariance.get(axis, axis));
  const follow = covariance.getColumn(axis).map((x) => x / covariance.get(axis, axis));
  const ridge = { hill, summit, start, axis, follow };
  const bound = (side: 1 | -1): Figure => {
    const root = likelihoodRoot(ridge);
    const offset = reachOf((away) => root(summit.place[axis] + side * away * unit), z);
    return offset === null ? NO_END : (summit.place[axis] + side * offset * unit) / scale;
  };
  const atNone = likelihoodRoot(ridge)(0);
  return {
    lower: bound(-1),
    upper: bound(1),
    p: atNone === null ? NO_END : chiSquareTail(atNone * atNone, 1),
  };
}

interface Ridge {
  readonly hill: Hill;
  readonly summit: Summit;
  /** Where the top was looked for from. */
  readonly start: Float64Array;
  readonly axis: number;
  /** How far all axes go, near the top, where this one goes by 1. */
  readonly follow: readonly number[];
}

/**
 * The root of the likelihood ratio against the top, at a value of the axis: it rises about in proportion to the distance.
 * Each search starts from where the one before ended, moved as the other coefficients would follow near the top. Firth's
 * likelihood may have several tops at one value, where one patient lies far from all others; so it is climbed from the
 * start as well, and the higher one counts.
 */
function likelihoodRoot({ hill, summit, start, axis, follow }: Ridge): (value: number) => number | null {
  let from: Pick<Summit, 'place' | 'value'> = summit;
  const goTo = (value: number, parts: number): boolean => {
    const by = value - from.place[axis];
    const places = [from.place.map((x, k) => (k === axis ? value : x + by * follow[k]))];
    if (!hill.canBeEndless) places.push(start.map((x, k) => (k === axis ? value : x)));
    let highest: Summit | null = null;
    for (const place of places) {
      const found = climb(hill, place, axis);
      if (found === null || typeof found === 'string') continue;
      if (highest === null || found.value > highest.value) highest = found;
    }
    if (highest !== null) {
      from = highest;
      return true;
    }
    // A far place may be too steep to start from: by way of the middle.
    return parts > 1 && goTo(value - by / 2, parts / 2) && goTo(value, parts / 2);
  };
  return (value) =>
    goTo(value, MOST_PARTS) ? Math.sqrt(Math.max(0, 2 * (summit.value - from.value))) : null;
}

/** Where a function that rises from 0 at 0 comes to z: strides outwards, then regula falsi (the Illinois variant). */
function reachOf(root: (away: number) => number | null, z: number): number | null {
  let [low, atLow] = [0, -z];
  let [high, atHigh] = [z, Number.NaN];
  for (let i = 0; i < MOST_STRIDES; i++) {
    const found = root(high);
    if (found === null) return null;
    atHigh = found - z;
    if (atHigh >= 0) break;
    [low, atLow] = [high, atHigh];
    high *= 1.5;
  }
  if (!(atHigh >= 0)) return null;
  let last = 0;
  for (let i = 0; i < MOST_CUTS && high - low > NEAR * high; i++) {
    const middle = high - (atHigh * (high - low)) / (atHigh - atLow);
    const found = root(middle);
    if (found === null) return null;
    const off = found - z;
    if (Math.abs(off) < NEAR) return middle;
    if (off > 0) {
      [high, atHigh] = [middle, off];
      if (last > 0) atLow /= 2;
    } else {
      [low, atLow] = [middle, off];
      if (last < 0) atHigh /= 2;
    }
    last = off;
  }
  return high;
}
