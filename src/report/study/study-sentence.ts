import { LEAST_PATIENTS } from '../../summarize/study/analysis/feature-cases.js';
import type { StudyResult } from '../results-study.js';
import { counted, listed } from '../words.js';
import { ADJUSTER_WORDS } from './adjuster-words.js';
import { inSentence } from './feature-titles.js';
import { shownFlow } from './flow-words.js';
import { sideLevels } from './outcome-words.js';
import { reasonWords } from './reason-words.js';
import { P_LIMIT } from './study-numbers.js';

type Feature = StudyResult['features'][number];
type Asked = Pick<StudyResult['asked'], 'primaryHours' | 'leastHours' | 'adjusters'>;

const has = (n: number): string => (n === 1 ? 'has' : 'have');

const isUnderLimit = ({ tests }: Feature): boolean =>
  tests.rankSum.holmP !== null && tests.rankSum.holmP < P_LIMIT;

const MOST_NAMED = 6;

/** `higher values of mean ICP and mean PRx`; empty where there is no such feature. */
function towards(side: 'higher' | 'lower', found: readonly Feature[]): string[] {
  const those = found.filter(({ area }) => (area.value ?? 0.5) > 0.5 === (side === 'higher'));
  if (those.length === 0) return [];
  const titles = those.map(({ title }) => inSentence(title));
  const names =
    titles.length <= MOST_NAMED + 1
      ? titles
      : [...titles.slice(0, MOST_NAMED), `${titles.length - MOST_NAMED} more features of the table below`];
  return [`${side} values of ${listed(names)}`];
}

/** How many patients there are, and with which outcome. */
function whoWords({ counts, words }: Pick<StudyResult['outcome'], 'counts' | 'words'>): string {
  const { favourable, unfavourable } = counts;
  const all = favourable + unfavourable;
  const levels = sideLevels({ words }, 'unfavourable');
  return `${counted(all, 'patient')} ${has(all)} a known outcome, which is unfavourable (${levels}) in ${unfavourable}`;
}

/** Why no feature was compared. */
const whyNothing = (features: readonly Feature[]): string =>
  reasonWords(
    features.map(({ title, tests }) => ({ title, reason: tests.rankSum.pReason ?? 'there is no test' })),
  );

/** The features of which none goes with outcome, with their verb. */
function noneWords(tested: number, features: number): string {
  if (tested > 1) return `none of ${tested} features goes`;
  return features === 1
    ? 'the feature that is asked about does not go'
    : 'the one feature that can be compared does not go';
}

/**
 * What is left of those that were found where what was known at admission is held as it is, so that nobody takes the answer
 * without it; empty where nothing is named to adjust by.
 */
function adjustedWords(adjusters: Asked['adjusters'], found: readonly Feature[]): string {
  if (adjusters.length === 0) return '';
  const ratio = `odds ratio adjusted by ${listed(adjusters.map((adjuster) => ADJUSTER_WORDS[adjuster]))}`;
  const tested = found.flatMap(({ tests }) => tests.adjustedLogistic.holmP ?? []);
  const under = tested.filter((holmP) => holmP < P_LIMIT).length;
  const test = 'likelihood ratio, adjusted by Holm';
  if (found.length === 1) {
    if (tested.length === 0) return ` It has no ${ratio}.`;
    return ` Its ${ratio} has a p ${under === 1 ? `under ${P_LIMIT}` : `of ${P_LIMIT} or more`} (${test}).`;
  }
  const untested = found.length - tested.length;
  const rest = untested === 0 ? '' : `; ${untested} ${has(untested)} no such odds ratio`;
  return ` Of these ${found.length}, ${under === 0 ? 'none has' : `${under} ${has(under)}`} an ${ratio} with a p under ${P_LIMIT} (${test})${rest}.`;
}

/**
 * Whether burden goes with outcome, in two or three sentences: which of the chosen features differ between the outcomes in the
 * rank sum test, adjusted by Holm, and to which side, and how many of these still do in the adjusted models.
 */
export function studySentence(
  { primaryHours, leastHours, adjusters }: Asked,
  outcome: Pick<StudyResult['outcome'], 'counts' | 'words'>,
  features: readonly Feature[],
  flow: StudyResult['flow'],
): string {
  const { favourable, unfavourable } = outcome.counts;
  const all = favourable + unfavourable;
  const who = whoWords(outcome);
  if (all === 0 && flow.inTable > 0 && shownFlow(flow).monitored === 0)
    return `None of the ${counted(flow.inTable, 'patient')} of the table was monitored for long enough (ICP known for ${leastHours} h in the first ${primaryHours} h of monitoring), so that nothing can be compared.`;
  if (all === 0)
    return 'No patient of the main analysis has a known outcome, so that nothing can be compared.';
  if (all < LEAST_PATIENTS) {
    return `${who}: too few to compare, since a comparison needs ${LEAST_PATIENTS}.`;
  }
  if (favourable === 0 || unfavourable === 0) {
    return `${who}: all outcomes are on one side, so that nothing can be compared.`;
  }
  const tested = features.filter(({ tests }) => tests.rankSum.p !== null);
  if (tested.length === 0)
    return `${who}. No feature can be compared between the outcomes: ${whyNothing(features)}.`;
  const untested = features.length - tested.length;
  const rest = untested === 0 ? '' : `; ${counted(untested, 'more feature')} cannot be compared`;
  const test = `rank sum test, p adjusted by Holm over ${counted(tested.length, 'feature')}`;
  const found = tested.filter(isUnderLimit);
  const window = `the first ${primaryHours} h of monitoring,`;
  return found.length === 0
    ? `${who}. In ${window} ${noneWords(tested.length, features.length)} with outcome beyond what chance may bring (${test}: ${P_LIMIT} or more)${rest}; that does not show that there is no association.`
    : `${who}. In ${window} ${[...towards('higher', found), ...towards('lower', found)].join(', and ')} go with an unfavourable outcome (${test}: under ${P_LIMIT})${rest}; association is not effect.${adjustedWords(adjusters, found)}`;
}
