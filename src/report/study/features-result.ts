import { withReasons } from '../../summarize/figure.js';
import { type FeatureAnalysis, TEST_KINDS } from '../../summarize/study/analysis/feature-analysis.js';
import type { Spread } from '../../summarize/study/analysis/spread.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import { estimateResult } from '../results-estimate.js';
import type { SpreadResult } from '../results-study-cohort.js';
import type { StudyFeatureResult } from '../results-study-features.js';
import { described } from './asked-result.js';
import { cutsResult } from './cuts-result.js';
import { adjustedResult, modelsResult } from './models-result.js';

const spreadResult = ({ known, missing, median, lowerQuartile, upperQuartile }: Spread): SpreadResult => ({
  ...withReasons({ median, lowerQuartile, upperQuartile }),
  known,
  missing,
});

const testsResult = (tests: FeatureAnalysis['tests']): StudyFeatureResult['tests'] =>
  Object.fromEntries(
    TEST_KINDS.map((kind) => [kind, withReasons({ p: tests[kind].p, holmP: tests[kind].holmP })]),
  ) as StudyFeatureResult['tests'];

/** Whether each chosen feature goes with outcome, unrounded, in the order that they are named in. */
export function featuresResult(
  cohort: Pick<StudyCohort, 'settings' | 'icpEpisodes' | 'groups'>,
  analyses: readonly FeatureAnalysis[],
): StudyFeatureResult[] {
  return analyses.map(({ key, step, known, missing, groups, logistic, ordinal, adjusted, tests }) => ({
    ...described(cohort, key),
    step,
    known,
    missing: missing.map(({ reason, count }) => ({ reason, count })),
    spread: {
      favourable: spreadResult(groups.spread.favourable),
      unfavourable: spreadResult(groups.spread.unfavourable),
    },
    ...withReasons({ pairsHigher: groups.pairsHigher }),
    rankSumMethod: groups.method,
    area: estimateResult(groups.area),
    ...modelsResult({ logistic, ordinal }),
    cuts: cutsResult(cohort.groups, { key, step }),
    adjusted: adjustedResult(adjusted),
    tests: testsResult(tests),
  }));
}
