import type { StudyFeatureResult } from '../results-study-features.js';
import {
  FEATURE,
  number,
  patients,
  prefixed,
  prefixedCells,
  SPREAD,
  TITLE,
  UNIT,
  why,
  word,
} from './study-columns.js';
import { AREA, HOLM, RANK_SUM } from './study-measures.js';
import type { TidyTable } from './tidy-table.js';

/** Groups by feature: medians, the rank sum test, the area. */
export const comparisonTable = (features: readonly StudyFeatureResult[]): TidyTable => ({
  name: 'comparisons',
  says: 'A row a feature that was asked about: how patients with an unfavourable outcome differ from the others, in the primary window',
  key: ['feature'],
  columns: [
    FEATURE,
    TITLE,
    UNIT,
    patients('known', 'Patients with a value', 'Patients of the main analysis who have it'),
    patients('missing', 'Patients without a value', 'Patients of the main analysis who do not'),
    word('missingReasons', 'Why values are missing', 'Reasons, each with its number of patients'),
    ...prefixed('favourable', 'Favourable outcome', SPREAD),
    ...prefixed('unfavourable', 'Unfavourable outcome', SPREAD),
    number('pairsHigher', 'W', '{pairs}', 'Statistic of the rank sum test', {
      ...RANK_SUM,
      definition:
        'Pairs of patients of both groups in which the one with the unfavourable outcome has more; same values count one half.',
    }),
    why('pairsHigher', 'W'),
    word('rankSumMethod', 'Method of the rank sum test', 'exact or normal'),
    number('rankSumP', 'p of the rank sum test', '1', 'p of the rank sum test', RANK_SUM),
    why('rankSumP', 'p of the rank sum test'),
    number('rankSumHolmP', 'p by Holm', '1', 'The same, adjusted', HOLM),
    why('rankSumHolmP', 'p by Holm'),
    number('area', 'Area under the ROC curve', '1', 'Area under the ROC curve', AREA),
    number('areaLower', 'Area: lower bound', '1', 'Of its interval', AREA),
    number('areaUpper', 'Area: upper bound', '1', 'Of its interval', AREA),
    why('area', 'Area or its interval'),
  ],
  rows: features.map(({ tests: { rankSum }, ...one }) => ({
    feature: one.key,
    title: one.title,
    unit: one.unit,
    known: one.known,
    missing: one.missing.reduce((sum, { count }) => sum + count, 0),
    missingReasons: one.missing.map(({ reason, count }) => `${reason} (${count})`).join('; '),
    ...prefixedCells('favourable', SPREAD, one.spread.favourable),
    ...prefixedCells('unfavourable', SPREAD, one.spread.unfavourable),
    pairsHigher: one.pairsHigher,
    pairsHigherReason: one.pairsHigherReason,
    rankSumMethod: one.rankSumMethod,
    rankSumP: rankSum.p,
    rankSumPReason: rankSum.pReason,
    rankSumHolmP: rankSum.holmP,
    rankSumHolmPReason: rankSum.holmPReason,
    area: one.area.value,
    areaLower: one.area.lower,
    areaUpper: one.area.upper,
    areaReason: one.area.reason,
  })),
});
