import { insist } from '../../statistics/estimate.js';
import { LEAST_EVENTS_PER_VARIABLE, type LogisticOdds, logisticOdds, type NoOdds } from './step-odds.js';

/** One place at which the scale can be cut in two. */
export interface CutOdds {
  /** The lowest level on the better side. */
  readonly from: number;
  readonly worse: number;
  readonly better: number;
  /** Of an outcome under that level, unadjusted. */
  readonly odds: LogisticOdds | NoOdds;
}

/**
 * The odds of a worse outcome at each cut of the scale by itself: what proportional odds take to be one and the same. Where
 * ratios drift apart over the cuts, one of them for all does not describe the feature. Levels that nobody has make no cut.
 *
 * @param codes outcomes of the same patients, higher is better
 * @param step in units of the feature, above 0
 * @returns a cut for each level but the lowest, rising; none where there are two levels, which is the logistic regression
 */
export function cutOdds(values: ArrayLike<number>, codes: ArrayLike<number>, step: number): CutOdds[] {
  insist(values.length === codes.length, 'an outcome for each value');
  const levels = [...new Set(Array.from(codes))].sort((a, b) => a - b);
  if (levels.length <= 2) return [];
  return levels.slice(1).map((from): CutOdds => {
    const events = Array.from(codes, (code) => Number(code < from));
    const worse = events.reduce((sum, event) => sum + event, 0);
    const better = events.length - worse;
    const odds =
      Math.min(worse, better) < LEAST_EVENTS_PER_VARIABLE
        ? { reason: `a side of the cut has fewer than ${LEAST_EVENTS_PER_VARIABLE} patients` }
        : logisticOdds([values], events, step);
    return { from, worse, better, odds };
  });
}
