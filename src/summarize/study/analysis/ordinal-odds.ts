import type { Columns } from '../../statistics/regression/design.js';
import { proportionalOdds } from '../../statistics/regression/proportional-odds.js';
import { type NoOdds, type OddsRatio, oddsPerStep } from './step-odds.js';

/** The odds of a worse outcome over the whole scale, wherever it is cut, by proportional odds. */
export interface OrdinalOdds extends OddsRatio {
  readonly patients: number;
  /** Levels that somebody has. */
  readonly levels: number;
}

/**
 * One odds ratio for all cuts of the scale: over 1 where more of the feature goes with a worse outcome, as in
 * `logisticOdds`. That it is the same at each cut is taken for granted. Source: as `proportionalOdds`.
 *
 * @param columns the feature, and what it is adjusted by
 * @param codes outcomes, higher is better
 * @param step in units of the feature, above 0
 * @returns the reason where there are two levels, which is what `logisticOdds` is for, or predictors part the outcomes
 */
export function ordinalOdds(columns: Columns, codes: ArrayLike<number>, step: number): OrdinalOdds | NoOdds {
  if (new Set(Array.from(codes)).size === 2) {
    return { reason: 'the outcome has two levels, for which it is the logistic regression' };
  }
  if (codes.length <= columns.length) {
    return { reason: `${codes.length} patients and ${columns.length} predictors: too few for this model` };
  }
  // The worse the higher, so that all odds ratios of a study point the same way.
  const fit = proportionalOdds(
    columns,
    Array.from(codes, (code) => -code),
  );
  if ('reason' in fit) return { reason: fit.reason };
  return {
    ...oddsPerStep(fit.slopes[0], fit.profile(0), step),
    patients: fit.count,
    levels: fit.categories.length,
  };
}
