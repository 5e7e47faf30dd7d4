import type { StudyFeatureResult, StudyModels } from '../results-study-features.js';
import { ADJUSTER_WORDS } from './adjuster-words.js';

type Logistic = NonNullable<StudyModels['logistic']>;
type Ratio = Pick<Logistic, 'value' | 'valueReason' | 'profile'>;

const PARTED = {
  complete: 'the outcomes are parted completely',
  'quasi-complete': 'the outcomes of some patients are parted',
} as const;

/** Why a ratio or a bound of its interval is missing; empty where nothing is. */
function missingOf({ value, valueReason, profile }: Ratio): string[] {
  if (value === null) return [`no odds ratio: ${valueReason}`];
  const bounds = [
    { name: 'lower', bound: profile.lower, why: profile.lowerReason },
    { name: 'upper', bound: profile.upper, why: profile.upperReason },
  ].filter(({ bound }) => bound === null);
  return bounds.map(({ name, why }) => `no ${name} bound: ${why}`);
}

function logisticWords(model: Logistic | null, reason: string | undefined): string[] {
  if (model === null) return [`no odds ratio: ${reason}`];
  const { separation } = model;
  return [...(separation === null ? [] : [PARTED[separation]]), ...missingOf(model)];
}

const sentence = (lead: string, parts: readonly string[]): string =>
  parts.length === 0 ? '' : `${lead}: ${parts.join('; ')}.`;

const together = (...sentences: readonly string[]): string =>
  sentences.filter((text) => text !== '').join(' ');

/** `Unadjusted: ... Adjusted: ...`, once where both say the same. */
const both = (unadjusted: readonly string[], adjusted: readonly string[]): string =>
  unadjusted.length > 0 && unadjusted.join() === adjusted.join()
    ? sentence('Unadjusted and adjusted', unadjusted)
    : together(sentence('Unadjusted', unadjusted), sentence('Adjusted', adjusted));

/** What a row of the logistic regressions has to be read with. */
export function logisticNote({ adjusted, ...own }: StudyFeatureResult, hasAdjusters: boolean): string {
  const unadjusted = logisticWords(own.logistic, own.logisticReason);
  if (!hasAdjusters) return sentence('Unadjusted', unadjusted);
  const left = adjusted.leftOut.map(({ adjuster, reason }) => `by ${ADJUSTER_WORDS[adjuster]}, ${reason}`);
  const isAlone = adjusted.logistic !== null && adjusted.unadjusted === null;
  return together(
    both(unadjusted, logisticWords(adjusted.logistic, adjusted.logisticReason)),
    sentence('Not adjusted', left),
    isAlone ? sentence('Alone in the complete patients', [`${adjusted.unadjustedReason}`]) : '',
  );
}

/** What a row of the proportional odds has to be read with. */
export function ordinalNote({ adjusted, ...own }: StudyFeatureResult, hasAdjusters: boolean): string {
  const words = ({ ordinal, ordinalReason }: StudyModels): string[] =>
    ordinal === null ? [`no odds ratio: ${ordinalReason}`] : missingOf(ordinal);
  return hasAdjusters ? both(words(own), words(adjusted)) : sentence('Unadjusted', words(own));
}
