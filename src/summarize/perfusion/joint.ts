import type { Interval } from '../../recording/interval.js';
import { type CutPiece, interpolate, piecesWithin } from '../../recording/pieces.js';
import { firstAfter } from '../../recording/search.js';
import type { Signal } from '../../recording/signal.js';
import { HOUR_MS } from '../hour.js';

/** Hours of ICP above and CPP below their limits, at once and each alone; together they are the hours of CPP. */
export interface JointHours {
  readonly bothHours: number;
  readonly icpAloneHours: number;
  readonly cppAloneHours: number;
  readonly neitherHours: number;
}

/** The part of a line from x0 to x1 that is above 0, as shares of its length. */
function partAbove(x0: number, x1: number): [from: number, to: number] {
  if (x0 > 0 && x1 > 0) return [0, 1];
  if (x0 <= 0 && x1 <= 0) return [0, 0];
  const crossing = x0 / (x0 - x1);
  return x0 > 0 ? [0, crossing] : [crossing, 1];
}

/**
 * Burden of ICP and CPP at once, crossings exact. CPP is known only where ICP is, and both are linear between neighbouring
 * samples of CPP, which stand wherever one of ICP does.
 *
 * @param icp cleaned as it was for CPP
 */
export function jointHoursIn(
  icp: Signal,
  cpp: Signal,
  window: Interval,
  { icpAboveMmHg, cppBelowMmHg }: { readonly icpAboveMmHg: number; readonly cppBelowMmHg: number },
): JointHours {
  const { first, last, cut } = piecesWithin(cpp, window);
  const sums = { both: 0, icp: 0, cpp: 0, neither: 0 };
  let at = Math.max(0, firstAfter(icp.times, window.start) - 1);
  const icpAt = (t: number): number => {
    while (at + 2 < icp.times.length && icp.times[at + 1] <= t) at++;
    return icp.times[at] === t
      ? icp.values[at]
      : interpolate(t, icp.times[at], icp.values[at], icp.times[at + 1], icp.values[at + 1]);
  };
  const take = (length: number, i0: number, c0: number, i1: number, c1: number): void => {
    const [icpFrom, icpTo] = partAbove(i0 - icpAboveMmHg, i1 - icpAboveMmHg);
    const [cppFrom, cppTo] = partAbove(cppBelowMmHg - c0, cppBelowMmHg - c1);
    const both = Math.max(0, Math.min(icpTo, cppTo) - Math.max(icpFrom, cppFrom)) * length;
    const icpMs = (icpTo - icpFrom) * length;
    const cppMs = (cppTo - cppFrom) * length;
    sums.both += both;
    sums.icp += icpMs - both;
    sums.cpp += cppMs - both;
    sums.neither += length - icpMs - cppMs + both;
  };
  const takeCut = ({ t0, x0, t1, x1 }: CutPiece): void => take(t1 - t0, icpAt(t0), x0, icpAt(t1), x1);
  const isBefore = ({ t0 }: CutPiece): boolean => first > last || t0 < cpp.times[first];
  cut.filter(isBefore).forEach(takeCut);
  let i1 = first < last ? icpAt(cpp.times[first]) : Number.NaN;
  for (let i = first; i < last; i++) {
    const i0 = i1;
    i1 = icpAt(cpp.times[i + 1]);
    if (cpp.known[i] === 0) continue;
    const length = cpp.times[i + 1] - cpp.times[i];
    const [c0, c1] = [cpp.values[i], cpp.values[i + 1]];
    // Most of the time neither limit is near.
    if (i0 <= icpAboveMmHg && i1 <= icpAboveMmHg && c0 >= cppBelowMmHg && c1 >= cppBelowMmHg) {
      sums.neither += length;
    } else take(length, i0, c0, i1, c1);
  }
  for (const piece of cut) if (!isBefore(piece)) takeCut(piece);
  return {
    bothHours: sums.both / HOUR_MS,
    icpAloneHours: sums.icp / HOUR_MS,
    cppAloneHours: sums.cpp / HOUR_MS,
    neitherHours: sums.neither / HOUR_MS,
  };
}
