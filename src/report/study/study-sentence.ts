import { LEAST_PATIENTS } from '../../summarize/study/analysis/feature-cases.js';
import type { StudyResult } from '../results-study.js';
import { counted, listed } from '../words.js';
import { inSentence } from './feature-titles.js';
import { unfavourableOutcome } from './outcome-words.js';
import { P_LIMIT } from './study-numbers.js';

type Feature = StudyResult['features'][number];

const has = (n: number): string => (n === 1 ? 'has' : 'have');

const isUnderLimit = ({ tests }: Feature): boolean =>
  tests.rankSum.holmP !== null && tests.rankSum.holmP < P_LIMIT;

/** `higher values of mean ICP`, `lower values of mean CPP`: which values go with an unfavourable outcome. */
const towards = ({ title, area }: Feature): string =>
  `${(area.value ?? 0.5) > 0.5 ? 'higher' : 'lower'} values of ${inSentence(title)}`;

/** How many patients there are, and with which outcome. */
function whoWords({ counts, words }: Pick<StudyResult['outcome'], 'counts' | 'words'>): string {
  const { favourable, unfavourable } = counts;
  const all = favourable + unfavourable;
  return `${counted(all, 'patient')} ${has(all)} a known outcome, ${unfavourable} of them ${unfavourableOutcome({ words })}`;
}

/** Why no feature was compared. */
function whyNothing(features: readonly Feature[]): string {
  const reasons = [...new Set(features.map(({ tests }) => tests.rankSum.pReason ?? 'there is no test'))];
  return `no feature can be compared between the outcomes: ${reasons.join('; ')}`;
}

/**
 * Whether burden goes with outcome, in one or two sentences: which of the chosen features differ between the outcomes in the
 * rank sum test, adjusted by Holm, and to which side.
 */
export function studySentence(
  { primaryHours }: Pick<StudyResult['asked'], 'primaryHours'>,
  outcome: Pick<StudyResult['outcome'], 'counts' | 'words'>,
  features: readonly Feature[],
): string {
  const { favourable, unfavourable } = outcome.counts;
  const all = favourable + unfavourable;
  const who = whoWords(outcome);
  if (all === 0)
    return 'No patient of the main analysis has a known outcome, so that nothing can be compared.';
  if (all < LEAST_PATIENTS) {
    return `${who}: too few to compare, since a comparison needs ${LEAST_PATIENTS}.`;
  }
  if (favourable === 0 || unfavourable === 0) {
    return `${who}: all outcomes are on one side, so that nothing can be compared.`;
  }
  const tested = features.filter(({ tests }) => tests.rankSum.p !== null);
  if (tested.length === 0) return `${who}; ${whyNothing(features)}.`;
  const untested = features.length - tested.length;
  const rest = untested === 0 ? '' : `; ${counted(untested, 'more feature')} cannot be compared`;
  const test = `rank sum test, p adjusted by Holm over ${counted(tested.length, 'feature')}`;
  const found = tested.filter(isUnderLimit);
  const window = `the first ${primaryHours} h of monitoring`;
  return found.length === 0
    ? `${who}. In ${window} ${tested.length === 1 ? 'the feature that can be compared does not differ' : `none of ${tested.length} features differs`} between the outcomes by more than chance would often bring about (${test}: ${P_LIMIT} or more)${rest}; that does not show that there is no association.`
    : `${who}. In ${window} ${listed(found.map(towards))} go with an unfavourable outcome (${test}: under ${P_LIMIT})${rest}; association is not effect.`;
}
