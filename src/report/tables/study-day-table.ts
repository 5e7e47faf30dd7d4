import type { StudyDaysResult } from '../results-study-cohort.js';
import { FEATURE, SPREAD, TITLE, UNIT, whole, word } from './study-columns.js';
import type { TidyTable } from './tidy-table.js';

const SIDES = ['favourable', 'unfavourable'] as const;

/** Features by day since injury and outcome. */
export const dayTable = ({ features }: StudyDaysResult): TidyTable => ({
  name: 'days',
  says: 'A row a feature, day since injury and outcome, over the patients who were monitored on it',
  key: ['feature', 'day', 'outcome'],
  columns: [
    FEATURE,
    whole('day', 'Day since injury', 'd', '24 h each counted from the injury, the first one 1'),
    word('outcome', 'Outcome', 'favourable or unfavourable'),
    TITLE,
    UNIT,
    ...SPREAD,
    word('reason', 'Why it is missing', 'Why the median is missing; blank where it is not'),
  ],
  rows: features.flatMap(({ key, title, unit, days }) =>
    days.flatMap(({ day, ...bySide }) =>
      SIDES.map((outcome) => {
        const { known, missing, median, lowerQuartile, upperQuartile, medianReason } = bySide[outcome];
        return {
          feature: key,
          day,
          outcome,
          title,
          unit,
          known,
          missing,
          median,
          lowerQuartile,
          upperQuartile,
          reason: medianReason,
        };
      }),
    ),
  ),
});
