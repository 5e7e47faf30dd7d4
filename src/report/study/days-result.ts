import { rateOf } from '../../summarize/study/analysis/rate-of.js';
import { spreadOf } from '../../summarize/study/analysis/spread.js';
import type { StudyPatient } from '../../summarize/study/analysis/study-patient.js';
import type { BurdenFeatures } from '../../summarize/study/burden-features.js';
import type { FeatureRow } from '../../summarize/study/feature-rows.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyDaysResult } from '../results-study-cohort.js';
import { described } from './asked-result.js';
import { bySide } from './by-side.js';
import { spreadResult } from './spread-result.js';
import { tally } from './tally.js';

/** Later days are those of few patients. Own convention. */
export const LAST_DAY = 14;
/** A score of the patient, which is the same on each day. */
const OF_NO_DAY = ['therapyIntensity'];

/**
 * What is told by day: the chosen features, and in the place of a total the same per monitored hour or day, since a day may
 * be monitored in part and a total of it would tell how much of it was.
 */
export function dayFeatureKeys(chosen: readonly { readonly key: string }[]): string[] {
  return [...new Set(chosen.map(({ key }) => rateOf(key) ?? key))].filter((key) => !OF_NO_DAY.includes(key));
}

type Day = StudyDaysResult['features'][number]['days'][number];
type Days = ReadonlyMap<number, BurdenFeatures>;

const daysOf = (rows: readonly FeatureRow[]): Days =>
  new Map(
    rows.flatMap(({ kind, day, window }) =>
      kind === 'day' && day !== null && 'features' in window ? [[day, window.features] as const] : [],
    ),
  );

const whyNoDays = (rows: readonly FeatureRow[]): string[] =>
  rows.flatMap(({ kind, window }) => (kind === 'day' && 'reason' in window ? [window.reason] : []));

function whyNone(patients: number, withDays: number, known: number): string | null {
  if (patients === 0) return 'nobody is in the main analysis';
  if (withDays === 0) return 'days since injury cannot be told of any patient';
  return known === 0 ? 'no chosen feature is known on any day' : null;
}

/**
 * The chosen features by day since injury and outcome, over the patients of the main analysis. On each day those are known
 * or missing who were monitored on it; a day on which nobody has a value is left out.
 */
export function daysResult(cohort: StudyCohort): StudyDaysResult {
  const { groups, memberOf, settings } = cohort;
  const patients = groups.coded.map(({ patient }) => patient);
  const rowsOf = ({ id }: StudyPatient): readonly FeatureRow[] => memberOf.get(id)?.study?.rows ?? [];
  const days = new Map(patients.map((patient) => [patient.id, daysOf(rowsOf(patient))]));
  const valuesOn = (side: readonly StudyPatient[], day: number, key: string): (number | null)[] =>
    side.flatMap(({ id }) => {
      const features = days.get(id)?.get(day);
      if (!features) return [];
      const value = features[key];
      return [typeof value === 'number' ? value : null];
    });
  const features = dayFeatureKeys(settings.chosen).map((key) => ({
    ...described(cohort, key),
    days: Array.from({ length: LAST_DAY }, (_, i): Day => {
      const spreads = bySide(groups, (side) => spreadResult(spreadOf(valuesOn(side, i + 1, key))));
      return { day: i + 1, ...spreads };
    }).filter(({ favourable, unfavourable }) => favourable.known + unfavourable.known > 0),
  }));
  const withDays = [...days.values()].filter(({ size }) => size > 0).length;
  const known = features.reduce((sum, one) => sum + one.days.length, 0);
  const why = whyNone(patients.length, withDays, known);
  return {
    features,
    withDays,
    noDays: tally(patients.flatMap((patient) => whyNoDays(rowsOf(patient)))).map(({ text, count }) => ({
      why: text,
      patients: count,
    })),
    ...(why === null ? {} : { reason: why }),
  };
}
