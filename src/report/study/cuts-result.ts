import { cutOdds } from '../../summarize/study/analysis/cut-odds.js';
import type { ChosenFeature } from '../../summarize/study/analysis/feature-analysis.js';
import { featureCases, whyNoComparison } from '../../summarize/study/analysis/feature-cases.js';
import type { OutcomeGroups } from '../../summarize/study/analysis/outcome-groups.js';
import type { StudyFeatureResult } from '../results-study-features.js';
import { logisticResult } from './models-result.js';

/** Odds ratios of a feature at each cut of the scale by itself; none where the groups cannot be compared. */
export function cutsResult(groups: OutcomeGroups, { key, step }: ChosenFeature): StudyFeatureResult['cuts'] {
  const cases = featureCases(groups, key);
  if (whyNoComparison(cases) !== null) return [];
  return cutOdds(cases.values, cases.codes, step).map(({ odds, ...cut }) => ({
    ...cut,
    ...logisticResult(odds),
  }));
}
