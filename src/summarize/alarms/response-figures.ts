import type { Figure } from '../figure.js';
import { aalenJohansen, type Incidence } from '../statistics/aalen-johansen.js';
import { LEAST_CLUSTERS, resampledEstimate, tooFewClusters } from '../statistics/cluster-bootstrap.js';
import { type Estimate, noBounds, noEstimate } from '../statistics/estimate.js';
import { NONE_YET, TO_ALL } from '../statistics/event-curve.js';
import { kaplanMeier } from '../statistics/kaplan-meier.js';
import type { Resampler } from '../statistics/resampler.js';
import { WeightedIncidence } from '../statistics/weighted-incidence.js';
import { wilsonInterval } from '../statistics/wilson-interval.js';
import { CAUSE_COUNT, CAUSES, type ResponseTime } from './response-times.js';

/** Shares are told by these times, minutes. */
export const SHARE_MINUTES = [5, 10, 15, 30] as const;

/** The share to whom it happened within so long. */
export interface ShareWithin {
  readonly minutes: number;
  /** Episodes to which it is known to have happened by then. */
  readonly happened: number;
  /** The interval resamples patients. */
  readonly share: Estimate;
  /** The interval of so many independent episodes, which is too narrow. */
  readonly naive: Estimate;
  /** Wilson's where no episode was cut off before that time; else the bounds of the curve. */
  readonly naiveMethod: 'wilson' | 'logLog';
}

/** How fast one thing came in some episodes. */
export interface ResponseFigures {
  readonly patients: number;
  readonly episodes: number;
  readonly happened: number;
  readonly resolvedFirst: number;
  readonly diedFirst: number;
  readonly cutOff: number;
  /** Episodes without an alarm, whose clock starts at the crossing. */
  readonly withoutAlarm: number;
  /** Which curve it is: where nothing came before what is waited for, Aalen and Johansen's is 1 minus Kaplan and Meier's. */
  readonly method: 'kaplanMeier' | 'aalenJohansen';
  readonly medianMinutes: Estimate;
  readonly shares: readonly ShareWithin[];
}

const NO_EPISODE = 'there was no such episode';
const NOT_HALF = 'it came to less than half of the episodes while they were followed';

/** Patients as numbers from 0 on, in order of their first episode. */
export function clustersOf(times: readonly ResponseTime[]): { clusters: number[]; count: number } {
  const seen = new Map<number, number>();
  const clusters = times.map(({ patient }) => {
    const known = seen.get(patient) ?? seen.size;
    seen.set(patient, known);
    return known;
  });
  return { clusters, count: seen.size };
}

export const causesOf = (times: readonly ResponseTime[]): number[] =>
  times.map(({ outcome }) => CAUSES[outcome]);

/** Values of each figure over the resamples, those that have none left out. */
function resampled(times: readonly ResponseTime[], resampler: Resampler): number[][] {
  const { clusters, count } = clustersOf(times);
  const curve = new WeightedIncidence({
    clusters,
    times: times.map(({ minutes }) => minutes),
    causes: causesOf(times),
  });
  const out = new Float64Array(1 + SHARE_MINUTES.length);
  const found: number[][] = Array.from(out, () => []);
  const counts = resampler.counts(count);
  for (let i = 0; i < resampler.resamples; i++) {
    curve.figures(counts, i * count, SHARE_MINUTES, out);
    out.forEach((value, k) => {
      if (!Number.isNaN(value)) found[k].push(value);
    });
  }
  return found;
}

/** A figure with an interval over patients. Of a share of none or all each resample is the same, which tells nothing. */
function overPatients(
  value: Figure,
  found: readonly number[] | undefined,
  patients: number,
  resampler: Resampler,
  isShare = false,
): Estimate {
  if (typeof value !== 'number') return noEstimate(value.reason);
  if (isShare && (value === 0 || value === 1)) return { value, ...noBounds(value === 0 ? NONE_YET : TO_ALL) };
  if (patients < LEAST_CLUSTERS || found === undefined)
    return { value, ...noBounds(tooFewClusters(patients)) };
  const { lower, upper } = resampledEstimate(value, found, {
    clusters: patients,
    resamples: resampler.resamples,
  });
  return { value, lower, upper };
}

/** The share by a time, with a reason in whole minutes where nobody was followed for so long. */
function shareBy(incidence: Incidence, minutes: number): Estimate {
  const share = incidence.shareBy(minutes);
  return typeof share.value === 'number' ? share : noEstimate(`no episode was followed for ${minutes} min`);
}

/**
 * How fast one thing came in some episodes: its cumulative incidence, in which an episode that resolved before and a death
 * count as what they are and not as cut off (Aalen and Johansen). Intervals resample patients, since the episodes of one
 * patient belong together; under 10 patients there is none.
 */
export function responseFigures(times: readonly ResponseTime[], resampler: Resampler): ResponseFigures {
  const patients = clustersOf(times).count;
  const counted = (outcome: ResponseTime['outcome']): number =>
    times.filter((one) => one.outcome === outcome).length;
  const [resolvedFirst, diedFirst] = [counted('resolved'), counted('died')];
  const method = resolvedFirst + diedFirst === 0 ? 'kaplanMeier' : 'aalenJohansen';
  const minutesOf = times.map(({ minutes }) => minutes);
  const [incidence] = aalenJohansen(minutesOf, causesOf(times), CAUSE_COUNT).incidences;
  const survival =
    method === 'kaplanMeier'
      ? kaplanMeier(
          minutesOf,
          times.map(({ outcome }) => outcome === 'happened'),
        )
      : null;
  const found = patients < LEAST_CLUSTERS ? [] : resampled(times, resampler);
  const none = times.length === 0;
  const median = incidence.median.value;
  return {
    patients,
    episodes: times.length,
    happened: counted('happened'),
    resolvedFirst,
    diedFirst,
    cutOff: counted('cut'),
    withoutAlarm: times.filter(({ hadAlarm }) => !hadAlarm).length,
    method,
    medianMinutes: none
      ? noEstimate(NO_EPISODE)
      : overPatients(
          typeof median === 'number' ? median : { reason: NOT_HALF },
          found[0],
          patients,
          resampler,
        ),
    shares: SHARE_MINUTES.map((minutes, k): ShareWithin => {
      const happened = times.filter((one) => one.outcome === 'happened' && one.minutes <= minutes).length;
      const isCut = times.some((one) => one.outcome === 'cut' && one.minutes < minutes);
      const naiveMethod = isCut ? 'logLog' : 'wilson';
      if (none) {
        return {
          minutes,
          happened,
          share: noEstimate(NO_EPISODE),
          naive: noEstimate(NO_EPISODE),
          naiveMethod,
        };
      }
      const own = shareBy(incidence, minutes);
      const bounds = survival !== null && typeof own.value === 'number' ? survival.shareBy(minutes) : own;
      return {
        minutes,
        happened,
        share: overPatients(own.value, found[1 + k], patients, resampler, true),
        naive: isCut
          ? { value: own.value, lower: bounds.lower, upper: bounds.upper }
          : wilsonInterval(happened, times.length),
        naiveMethod,
      };
    }),
  };
}
