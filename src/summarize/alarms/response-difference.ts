import { LEAST_CLUSTERS, resampledEstimate } from '../statistics/cluster-bootstrap.js';
import { type Estimate, noBounds, noEstimate } from '../statistics/estimate.js';
import type { Resampler } from '../statistics/resampler.js';
import { WeightedIncidence } from '../statistics/weighted-incidence.js';
import { causesOf, clustersOf } from './response-figures.js';
import type { ResponseTime } from './response-times.js';

/** Before and after are compared by the share within so long, minutes. */
export const COMPARED_MINUTES = 15;

/** The share within 15 min after a change minus the one before it. */
export interface ResponseDifference extends Estimate {
  readonly minutes: number;
  /** With episodes before it, after it, and both together; one with episodes in both is one. */
  readonly patientsBefore: number;
  readonly patientsAfter: number;
  readonly patients: number;
}

const patientsIn = (times: readonly ResponseTime[]): number =>
  new Set(times.map(({ patient }) => patient)).size;

/**
 * Difference of the shares within 15 min, with an interval over patients: one with episodes before and after the change is
 * drawn with both, so that what is alike in a patient takes nothing away and adds nothing. On each side 10 patients are
 * needed, for the reason for which an interval of one share needs them (own convention).
 */
export function responseDifference(
  before: readonly ResponseTime[],
  after: readonly ResponseTime[],
  resampler: Resampler,
): ResponseDifference {
  const all = [...before, ...after];
  const { clusters, count } = clustersOf(all);
  const curveOf = (times: readonly ResponseTime[], from: number) =>
    new WeightedIncidence({
      clusters: clusters.slice(from, from + times.length),
      times: times.map(({ minutes }) => minutes),
      causes: causesOf(times),
    });
  const curves = [curveOf(before, 0), curveOf(after, before.length)];
  const out = new Float64Array(2);
  const difference = (counts: ArrayLike<number>, offset: number): number => {
    const [first, second] = curves.map((curve) => {
      curve.figures(counts, offset, [COMPARED_MINUTES], out);
      return out[1];
    });
    return second - first;
  };
  const [patientsBefore, patientsAfter] = [patientsIn(before), patientsIn(after)];
  const about = { minutes: COMPARED_MINUTES, patientsBefore, patientsAfter, patients: count };
  const value = difference(new Uint8Array(count).fill(1), 0);
  if (Number.isNaN(value)) {
    const side = before.length === 0 ? 'before' : after.length === 0 ? 'after' : null;
    const reason =
      side === null
        ? `on one side of the change no episode was followed for ${COMPARED_MINUTES} min`
        : `there was no such episode ${side} the change`;
    return { ...about, ...noEstimate(reason) };
  }
  if (Math.min(patientsBefore, patientsAfter) < LEAST_CLUSTERS) {
    const reason = `an interval needs ${LEAST_CLUSTERS} patients on each side of the change, and there are ${patientsBefore} before it and ${patientsAfter} after it`;
    return { ...about, value, ...noBounds(reason) };
  }
  const counts = resampler.counts(count);
  const found: number[] = [];
  for (let i = 0; i < resampler.resamples; i++) {
    const one = difference(counts, i * count);
    if (!Number.isNaN(one)) found.push(one);
  }
  const { lower, upper } = resampledEstimate(value, found, {
    clusters: count,
    resamples: resampler.resamples,
  });
  return { ...about, value, lower, upper };
}
