import type { Figure } from '../../figure.js';
import { insist } from '../estimate.js';
import { normalReach } from '../normal-reach.js';
import { chiSquareTail } from '../tails.js';
import { climb, type Hill, type Summit } from './climb.js';

/** What the likelihood itself says of one coefficient: all others take their best values at each of its own. */
export interface Profile {
  /** Bounds of the values that the likelihood ratio test does not refuse. */
  readonly lower: Figure;
  readonly upper: Figure;
  /** Of the likelihood ratio test of no effect, with one degree of freedom. */
  readonly p: Figure;
}

export interface ProfileOptions {
  /** Its index, and its axis of the likelihood. */
  readonly predictor: number;
  readonly axis: number;
  /** Of the predictors: what their axes have to be divided by. */
  readonly scales: Float64Array;
  readonly level: number;
}

const NO_END = { reason: 'the search for the bound came to no end' };
const MOST_STRIDES = 60;
const MOST_CUTS = 60;
const NEAR = 1e-10;

/**
 * Interval and test of a coefficient by the profile of its likelihood, penalised or not. Sources: Venzon & Moolgavkar,
 * Appl Stat 1988;37:87-94; for Firth's: Heinze & Schemper, Stat Med 2002;21:2409-19.
 */
export function profileOf(
  hill: Hill,
  summit: Summit,
  { predictor, axis, scales, level }: ProfileOptions,
): Profile {
  insist(
    Number.isInteger(predictor) && predictor >= 0 && predictor < scales.length,
    `the index of one of ${scales.length} predictors, and got ${predictor}`,
  );
  const z = normalReach(level);
  const unit = 1 / Math.sqrt(summit.information.get(axis, axis));
  const bound = (side: 1 | -1): Figure => {
    const root = likelihoodRoot(hill, summit, axis);
    const offset = reachOf((away) => root(summit.place[axis] + side * away * unit), z);
    return offset === null ? NO_END : (summit.place[axis] + side * offset * unit) / scales[predictor];
  };
  const atNone = likelihoodRoot(hill, summit, axis)(0);
  return {
    lower: bound(-1),
    upper: bound(1),
    p: atNone === null ? NO_END : chiSquareTail(atNone * atNone, 1),
  };
}

/**
 * The root of the likelihood ratio against the top, at a value of the axis: it rises about in proportion to the distance.
 * Each search starts from where the one before ended.
 */
function likelihoodRoot(hill: Hill, summit: Summit, axis: number): (value: number) => number | null {
  let from = summit.place;
  return (value) => {
    const start = from.slice();
    start[axis] = value;
    const found = climb(hill, start, axis) ?? climb(hill, atOnly(summit.place, axis, value), axis);
    if (found === null || typeof found === 'string') return null;
    from = found.place;
    return Math.sqrt(Math.max(0, 2 * (summit.value - found.value)));
  };
}

function atOnly(place: Float64Array, axis: number, value: number): Float64Array {
  const start = place.slice();
  start[axis] = value;
  return start;
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
