import type { StudyFeatureResult } from '../results-study-features.js';
import { FEATURE, flag, number, patients, STEP, TITLE, UNIT, whole, why, word } from './study-columns.js';
import { ODDS, PROFILE } from './study-measures.js';
import type { TidyTable } from './tidy-table.js';

/** The odds ratio of each feature at each cut of the scale by itself. */
export const cutTable = (features: readonly StudyFeatureResult[]): TidyTable => ({
  name: 'cuts',
  says: 'A row a feature and cut of the scale: odds ratios of an outcome on its worse side, unadjusted, in the primary window',
  key: ['feature', 'from'],
  columns: [
    FEATURE,
    TITLE,
    UNIT,
    STEP,
    whole('from', 'Cut', '{level}', 'Lowest level on the better side of the cut'),
    patients('worse', 'Patients under the cut', 'Patients with a value and an outcome under that level'),
    patients(
      'better',
      'Patients from the cut on',
      'Patients with a value and an outcome of that level or better',
    ),
    number('value', 'Odds ratio', '1', 'Per step of the feature', ODDS),
    number('profileLower', 'Profile: lower bound', '1', 'Of the odds ratio', PROFILE),
    number('profileUpper', 'Profile: upper bound', '1', 'Of the odds ratio', PROFILE),
    number('profileP', 'Profile: p', '1', 'Of no association; not adjusted', PROFILE),
    why('value', 'Odds ratio'),
    word('profileReason', 'Profile: what is missing', 'Why a bound or p is missing; blank where none is'),
    flag('isPenalised', 'Odds ratio penalised', 'true where it is by penalised likelihood'),
  ],
  rows: features.flatMap(({ key, title, unit, step, cuts }) =>
    cuts.map(({ from, worse, better, logistic, logisticReason }) => ({
      ...{ feature: key, title, unit, step, from, worse, better },
      value: logistic?.value ?? null,
      valueReason: logistic === null ? logisticReason : logistic.valueReason,
      profileLower: logistic?.profile.lower ?? null,
      profileUpper: logistic?.profile.upper ?? null,
      profileP: logistic?.profile.p ?? null,
      profileReason:
        logistic?.profile.lowerReason ?? logistic?.profile.upperReason ?? logistic?.profile.pReason ?? null,
      isPenalised: logistic === null ? null : logistic.method === 'penalised likelihood',
    })),
  ),
});
