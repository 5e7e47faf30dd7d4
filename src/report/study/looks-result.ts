import { withReasons } from '../../summarize/figure.js';
import { type Estimate, noEstimate } from '../../summarize/statistics/estimate.js';
import { type FeatureAnalysis, featureAnalyses } from '../../summarize/study/analysis/feature-analysis.js';
import { type OutcomeGroups, outcomeGroups } from '../../summarize/study/analysis/outcome-groups.js';
import type { LogisticOdds, NoOdds } from '../../summarize/study/analysis/step-odds.js';
import type { StudyPatient } from '../../summarize/study/analysis/study-patient.js';
import { patientOver, type StudyCohort } from '../../summarize/study/study-cohort.js';
import { estimateResult } from '../results-estimate.js';
import type { StudyLookResult } from '../results-study-features.js';
import { described } from './asked-result.js';

type LookCohort = Pick<
  StudyCohort,
  'settings' | 'icpEpisodes' | 'cut' | 'flow' | 'patients' | 'groups' | 'adjusters' | 'memberOf'
>;

const oddsEstimate = (odds: LogisticOdds | NoOdds): Estimate =>
  'reason' in odds
    ? noEstimate(odds.reason)
    : { value: odds.value, lower: odds.profile.lower, upper: odds.profile.upper };

const isPenalised = (odds: LogisticOdds | NoOdds): boolean =>
  !('reason' in odds) && odds.method === 'penalised likelihood';

/** The patients of the main analysis, with the features of their whole stay. */
function overStay({ groups, memberOf, settings }: LookCohort): StudyPatient[] {
  return groups.coded.flatMap(({ patient }) => {
    const member = memberOf.get(patient.id);
    return (member && patientOver(member, 'stay', settings)) ?? [];
  });
}

function lookResult(
  cohort: LookCohort,
  look: Pick<StudyLookResult, 'look' | 'title'>,
  { counts, coded }: OutcomeGroups,
  analyses: readonly FeatureAnalysis[],
): StudyLookResult {
  return {
    ...look,
    patients: coded.length,
    unfavourable: counts.unfavourable,
    features: analyses.map(({ key, step, known, groups, logistic, adjusted }) => ({
      ...described(cohort, key),
      step,
      known,
      area: estimateResult(groups.area),
      ...withReasons({ rankSumP: groups.p }),
      odds: estimateResult(oddsEstimate(logistic)),
      oddsPenalised: isPenalised(logistic),
      adjustedOdds: estimateResult(oddsEstimate(adjusted.logistic)),
      adjustedOddsPenalised: isPenalised(adjusted.logistic),
    })),
  };
}

/**
 * The same question asked again: of those from whom treatment is not known to have been withdrawn, and of the same patients
 * over their whole stay. Features, steps and adjusters stay as they are; each look parts and analyses its own patients.
 *
 * @param analyses of the main analysis
 */
export function looksResult(cohort: LookCohort, analyses: readonly FeatureAnalysis[]): StudyLookResult[] {
  const { settings, cut, adjusters, flow } = cohort;
  const asked = (
    look: Pick<StudyLookResult, 'look' | 'title'>,
    patients: readonly StudyPatient[],
  ): StudyLookResult => {
    const groups = outcomeGroups(patients, cut);
    return lookResult(cohort, look, groups, featureAnalyses(groups, settings.chosen, adjusters));
  };
  const kept = new Set(flow.notWithdrawn);
  const hours = `first ${settings.primaryHours} h`;
  return [
    lookResult(cohort, { look: 'main', title: `Main analysis: ${hours}` }, cohort.groups, analyses),
    asked(
      { look: 'notWithdrawn', title: `Without withdrawal of treatment: ${hours}` },
      cohort.groups.coded.flatMap(({ patient }) => (kept.has(patient.id) ? [patient] : [])),
    ),
    asked({ look: 'stay', title: 'All of them: whole stay' }, overStay(cohort)),
  ];
}
