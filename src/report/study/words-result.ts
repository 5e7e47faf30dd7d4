import type { FeatureAnalysis } from '../../summarize/study/analysis/feature-analysis.js';
import { guardWords } from '../../summarize/study/analysis/guard-words.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyResult } from '../results-study.js';
import { describedFeatures } from './asked-result.js';

/** What has to be known before the figures are read, with features under their titles. */
export function wordsResult(
  cohort: Pick<StudyCohort, 'settings' | 'icpEpisodes' | 'groups'>,
  analyses: readonly FeatureAnalysis[],
): StudyResult['words'] {
  const titles = Object.fromEntries([...describedFeatures(cohort)].map(([key, { title }]) => [key, title]));
  return guardWords(cohort.groups, analyses, titles).map(({ about, sentence }) => ({ about, sentence }));
}
