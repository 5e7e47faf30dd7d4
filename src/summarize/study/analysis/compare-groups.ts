import type { Figure } from '../../figure.js';
import { type Area, areaUnderCurve } from '../../statistics/area-under-curve.js';
import { noEstimate } from '../../statistics/estimate.js';
import { type RankSumTest, rankSumTest } from '../../statistics/rank-sum-test.js';
import { type FeatureCases, whyNoComparison } from './feature-cases.js';
import type { BySide } from './outcome-groups.js';
import { type Spread, spreadOf } from './spread.js';

/** Both groups by one feature, without any model. */
export interface GroupComparison {
  readonly spread: BySide<Spread>;
  /** W: pairs in which the patient with the unfavourable outcome has the higher value, same values one half. */
  readonly pairsHigher: Figure;
  readonly p: Figure;
  /** Null where there is no test. */
  readonly method: RankSumTest['method'] | null;
  /**
   * How often a patient with an unfavourable outcome has the higher value of two. Under 0.5 where lower values go with it:
   * the direction is not chosen after a look at the data, which would make chance look like more.
   */
  readonly area: Area;
}

/** Compares the groups: medians with quartiles, rank sum test, and the area under the ROC curve with DeLong's interval. */
export function compareGroups(cases: FeatureCases): GroupComparison {
  const { values, events, without } = cases;
  const side = (event: 0 | 1): number[] => Array.from(values).filter((_, i) => events[i] === event);
  const [favourable, unfavourable] = [side(0), side(1)];
  const spread = {
    favourable: { ...spreadOf(favourable), missing: without.favourable },
    unfavourable: { ...spreadOf(unfavourable), missing: without.unfavourable },
  };
  const reason = whyNoComparison(cases);
  if (reason !== null) {
    const none = { reason };
    const counts = { withEvent: unfavourable.length, withoutEvent: favourable.length };
    return {
      spread,
      pairsHigher: none,
      p: none,
      method: null,
      area: { ...counts, ...noEstimate(reason), standardError: none },
    };
  }
  const test = rankSumTest(unfavourable, favourable);
  return { spread, ...test, area: areaUnderCurve(values, events) };
}
