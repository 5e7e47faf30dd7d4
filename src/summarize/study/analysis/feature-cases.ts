import { insist } from '../../statistics/estimate.js';
import type { BySide, OutcomeGroups } from './outcome-groups.js';
import type { StudyPatient } from './study-patient.js';

/** The patients of both groups who have a value of one feature, in the same order in each list. */
export interface FeatureCases {
  readonly key: string;
  readonly patients: readonly StudyPatient[];
  readonly values: Float64Array;
  /** 1 where the outcome is unfavourable: what is asked about. */
  readonly events: Uint8Array;
  /** Outcomes, higher is better. */
  readonly codes: Float64Array;
  /** How many of each group have none. */
  readonly without: BySide<number>;
  /** Why they have none, the most frequent reason first. */
  readonly missing: readonly { readonly reason: string; readonly count: number }[];
}

/** Fewer patients with a value and an outcome are described and not compared; own convention, as for the cells of the map. */
export const LEAST_PATIENTS = 10;
/** Relative; far more than sums of a month of samples lose, and far less than a monitor shows. */
const SAME = 1e-12;

/**
 * Values of which those that differ by rounding alone are equal: two sums of the same figure over other samples have other
 * last bits, and ranks, groups and axes would be made of those. All others stay as they are.
 */
export function withoutRounding(values: Float64Array): Float64Array {
  const out = values.slice();
  const places = [...out.keys()].sort((a, b) => out[a] - out[b]);
  for (let i = 1; i < places.length; i++) {
    const before = out[places[i - 1]];
    const value = out[places[i]];
    if (value - before <= SAME * Math.max(Math.abs(value), Math.abs(before))) out[places[i]] = before;
  }
  return out;
}

const NOT_READ = 'the feature was not read of this patient';

/** @throws RangeError where a feature is a number that is not finite */
export function featureCases({ coded }: OutcomeGroups, key: string): FeatureCases {
  const there = coded.filter(({ patient }) => typeof patient.features[key] === 'number');
  const values = Float64Array.from(there, ({ patient }) => patient.features[key] as number);
  insist(values.every(Number.isFinite), `finite values of ${key}`);
  const reasons = new Map<string, number>();
  const without = { favourable: 0, unfavourable: 0 };
  for (const { patient, isFavourable } of coded) {
    const figure = patient.features[key] as (typeof patient.features)[string] | undefined;
    if (typeof figure === 'number') continue;
    const reason = figure?.reason ?? NOT_READ;
    reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
    without[isFavourable ? 'favourable' : 'unfavourable']++;
  }
  return {
    key,
    patients: there.map(({ patient }) => patient),
    values: withoutRounding(values),
    events: Uint8Array.from(there, ({ isFavourable }) => Number(!isFavourable)),
    codes: Float64Array.from(there, ({ code }) => code),
    without,
    missing: [...reasons].map(([reason, count]) => ({ reason, count })).sort((a, b) => b.count - a.count),
  };
}

/** Why both groups cannot be compared by the feature; null where they can. */
export function whyNoComparison({ values, events }: FeatureCases): string | null {
  const n = values.length;
  if (n === 0) return 'no patient with an outcome has a value';
  if (n < LEAST_PATIENTS) {
    return `${n === 1 ? '1 patient has' : `${n} patients have`} a value and an outcome, and a comparison needs ${LEAST_PATIENTS}`;
  }
  const having = events.reduce((sum, event) => sum + event, 0);
  if (having === 0) return 'no patient with a value has an unfavourable outcome';
  if (having === n) return 'no patient with a value has a favourable outcome';
  return values.every((value) => value === values[0]) ? 'all patients have the same value' : null;
}
