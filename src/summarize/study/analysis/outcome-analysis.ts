import { type DoseResponse, doseResponse } from './dose-response.js';
import { type ChosenFeature, type FeatureAnalysis, featureAnalyses } from './feature-analysis.js';
import { type GuardWord, guardWords } from './guard-words.js';
import { type OutcomeCut, type OutcomeGroups, outcomeGroups } from './outcome-groups.js';
import type { Adjuster, StudyPatient } from './study-patient.js';
import { type TableOne, tableOne } from './table-one.js';

/** What an analysis is asked, settled before the data are looked at. */
export interface AnalysisSettings {
  readonly cut: OutcomeCut;
  readonly chosen: readonly ChosenFeature[];
  readonly adjusters: readonly Adjuster[];
  /** Groups of the dose response. */
  readonly quantiles?: number;
  /** Of features, by key, for sentences. */
  readonly titles?: Readonly<Record<string, string>>;
}

/** Whether burden goes with outcome in a cohort. */
export interface OutcomeAnalysis {
  readonly groups: OutcomeGroups;
  readonly tableOne: TableOne;
  readonly features: readonly FeatureAnalysis[];
  readonly doseResponses: readonly DoseResponse[];
  readonly guardWords: readonly GuardWord[];
}

/**
 * The whole analysis over patients, of the features of one window.
 *
 * @throws RangeError where the settings ask for what makes no sense
 */
export function analyseOutcome(
  patients: readonly StudyPatient[],
  { cut, chosen, adjusters, quantiles, titles }: AnalysisSettings,
): OutcomeAnalysis {
  const groups = outcomeGroups(patients, cut);
  const features = featureAnalyses(groups, chosen, adjusters);
  return {
    groups,
    tableOne: tableOne(groups),
    features,
    doseResponses: chosen.map(({ key }) => doseResponse(groups, key, quantiles)),
    guardWords: guardWords(groups, features, titles),
  };
}
