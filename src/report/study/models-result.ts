import { type WithReasons, withReasons } from '../../summarize/figure.js';
import type { AdjustedOdds } from '../../summarize/study/analysis/adjusted-odds.js';
import type { OrdinalOdds } from '../../summarize/study/analysis/ordinal-odds.js';
import type { LogisticOdds, NoOdds, OddsRatio } from '../../summarize/study/analysis/step-odds.js';
import type { StudyFeatureResult, StudyModels } from '../results-study-features.js';

interface Ratio extends WithReasons<'value'> {
  readonly wald: WithReasons<'lower' | 'upper' | 'p'>;
  readonly profile: WithReasons<'lower' | 'upper' | 'p'>;
}

const ratio = ({ value, wald, profile }: OddsRatio): Ratio => ({
  ...withReasons({ value }),
  wald: withReasons({ lower: wald.lower, upper: wald.upper, p: wald.p }),
  profile: withReasons({ lower: profile.lower, upper: profile.upper, p: profile.p }),
});

/** The logistic regression, or why there is none. */
export function logisticResult(
  odds: LogisticOdds | NoOdds,
): Pick<StudyModels, 'logistic' | 'logisticReason'> {
  if ('reason' in odds) return { logistic: null, logisticReason: odds.reason };
  const { method, separation, patients, events, eventsPerVariable, hasFewEvents } = odds;
  return {
    logistic: {
      ...ratio(odds),
      method,
      separation,
      patients,
      events,
      eventsPerVariable,
      hasFewEvents,
    },
  };
}

function ordinalResult(odds: OrdinalOdds | NoOdds): Pick<StudyModels, 'ordinal' | 'ordinalReason'> {
  if ('reason' in odds) return { ordinal: null, ordinalReason: odds.reason };
  const { patients, levels } = odds;
  return { ordinal: { ...ratio(odds), patients, levels } };
}

/** Both models of a feature, or why there is none. */
export const modelsResult = ({
  logistic,
  ordinal,
}: Pick<AdjustedOdds, 'logistic' | 'ordinal'>): StudyModels => ({
  ...logisticResult(logistic),
  ...ordinalResult(ordinal),
});

/** The models with what was known at admission in them. */
export function adjustedResult(adjusted: AdjustedOdds): StudyFeatureResult['adjusted'] {
  const { adjusters, leftOut, complete, incomplete, unadjusted } = adjusted;
  return {
    adjusters: [...adjusters],
    leftOut: leftOut.map(({ adjuster, reason }) => ({ adjuster, reason })),
    complete,
    incomplete,
    ...modelsResult(adjusted),
    ...withReasons({ unadjusted }),
  };
}
