import type { FeatureAnalysis } from '../../summarize/study/analysis/feature-analysis.js';
import { guardWords } from '../../summarize/study/analysis/guard-words.js';
import { hasDiedBy } from '../../summarize/study/analysis/study-patient.js';
import type { StudyCohort } from '../../summarize/study/study-cohort.js';
import type { StudyResult } from '../results-study.js';
import { counted } from '../words.js';
import { describedFeatures } from './asked-result.js';

/**
 * Who was monitored for too short a time to count, and how many of them died: a study of burden is of those who lived long
 * enough to be monitored, and nothing else on a page says so. Null where there is nobody.
 */
function leftOut({ settings, flow, memberOf }: WordsCohort): string | null {
  const short = [...flow.stoppedAt].flatMap(([id, step]) => (step === 'littleMonitored' ? [id] : []));
  if (short.length === 0) return null;
  const died = short.filter((id) => {
    const row = memberOf.get(id)?.row;
    return row && hasDiedBy(row);
  }).length;
  const one = short.length === 1;
  return `${counted(short.length, 'patient')} of the table had too little ICP in the first ${settings.primaryHours} h to count; ${died} of ${one ? 'this 1' : `these ${short.length}`} died, at any time. Who dies early cannot be monitored for long, so that the study is of those who lived long enough.`;
}

type WordsCohort = Pick<StudyCohort, 'settings' | 'icpEpisodes' | 'groups' | 'flow' | 'memberOf'>;

/** What has to be known before the figures are read, with features under their titles. */
export function wordsResult(cohort: WordsCohort, analyses: readonly FeatureAnalysis[]): StudyResult['words'] {
  const titles = Object.fromEntries([...describedFeatures(cohort)].map(([key, { title }]) => [key, title]));
  const words = guardWords(cohort.groups, analyses, titles).map(({ about, sentence }) => ({
    about,
    sentence,
  }));
  const sentence = leftOut(cohort);
  return sentence === null ? words : [...words, { about: 'leftOut', sentence }];
}
