import type { StudyFeatureResult, StudyModels } from '../results-study-features.js';
import type { Cell } from './csv.js';
import { FEATURE, flag, number, patients, STEP, TITLE, UNIT, whole, why, word } from './study-columns.js';
import { HOLM, ODDS, PROFILE } from './study-measures.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

type Kind = 'logistic' | 'ordinal';
type Tests = StudyFeatureResult['tests'];
type Cells = Record<string, Cell>;

const WALD = {
  definition: 'Interval of 95 % and test by the standard error.',
  source: 'Wald, Trans Am Math Soc 1943;54:426-82',
};

const intervalColumns = (
  name: 'wald' | 'profile',
  title: string,
  measure: typeof WALD,
): readonly TidyColumn[] => [
  number(`${name}Lower`, `${title}: lower bound`, '1', 'Of the odds ratio', measure),
  number(`${name}Upper`, `${title}: upper bound`, '1', 'Of the odds ratio', measure),
  number(`${name}P`, `${title}: p`, '1', 'Of no association', measure),
  word(
    `${name}Reason`,
    `${title}: what is missing`,
    'Why a bound or p is missing; blank where none is, and where there is no model',
  ),
];

const COLUMNS: readonly TidyColumn[] = [
  FEATURE,
  word(
    'model',
    'Model',
    'unadjusted; adjusted; or unadjustedComplete: unadjusted in the patients that the adjusted one has, whose odds ratio tells what adjusting changes and what leaving patients out does',
  ),
  word(
    'kind',
    'Kind',
    'logistic: of an unfavourable outcome; ordinal: of a worse outcome at any cut of the scale',
  ),
  TITLE,
  UNIT,
  STEP,
  word('adjusters', 'Adjusted by', 'Columns of the table patients, with blanks between; blank for none'),
  number('value', 'Odds ratio', '1', 'Per step of the feature', ODDS),
  why('value', 'Odds ratio'),
  ...intervalColumns('wald', 'Wald', WALD),
  ...intervalColumns('profile', 'Profile', PROFILE),
  number('holmP', 'p by Holm', '1', 'p of the profile, adjusted', HOLM),
  why('holmP', 'p by Holm'),
  word('method', 'Method', 'maximum likelihood or penalised likelihood; of kind logistic alone'),
  word('separation', 'Separation', 'complete or quasi-complete, where predictors part the outcomes'),
  patients('patients', 'Patients', 'In the model'),
  patients('events', 'Events', 'Patients in it with an unfavourable outcome; of kind logistic alone'),
  whole('levels', 'Levels', '{levels}', 'Levels of the scale that somebody has; of kind ordinal alone'),
  number(
    'eventsPerVariable',
    'Events per variable',
    '1',
    'Patients of the smaller group for each predictor',
    {
      definition: 'Under 10 coefficients tend to be too large, and intervals not to hold.',
      source: 'Peduzzi et al., J Clin Epidemiol 1996;49:1373-9',
    },
  ),
  flag('hasFewEvents', 'Few events', 'true where they are under 10'),
];

type Odds = NonNullable<StudyModels['logistic'] | StudyModels['ordinal']>;

function intervalCells(name: 'wald' | 'profile', { lower, upper, p, ...why }: Odds['wald']): Cells {
  return {
    [`${name}Lower`]: lower,
    [`${name}Upper`]: upper,
    [`${name}P`]: p,
    [`${name}Reason`]: why.lowerReason ?? why.upperReason ?? why.pReason,
  };
}

const modelCells = (odds: Odds): Cells => ({
  value: odds.value,
  valueReason: odds.valueReason,
  ...intervalCells('wald', odds.wald),
  ...intervalCells('profile', odds.profile),
  patients: odds.patients,
  ...('levels' in odds
    ? { levels: odds.levels }
    : {
        method: odds.method,
        separation: odds.separation,
        events: odds.events,
        eventsPerVariable: odds.eventsPerVariable,
        hasFewEvents: odds.hasFewEvents,
      }),
});

function modelRow(kind: Kind, models: StudyModels, test: Tests[keyof Tests]): Cells {
  const odds = models[kind];
  const holm = { holmP: test.holmP, holmPReason: test.holmPReason };
  return odds === null
    ? { kind, valueReason: models[`${kind}Reason`], ...holm }
    : { kind, ...modelCells(odds), ...holm };
}

function rowsOf({ key, title, unit, step, tests, adjusted, ...one }: StudyFeatureResult): Cells[] {
  const by = adjusted.adjusters.join(' ');
  const rows: Cells[] = [
    { model: 'unadjusted', ...modelRow('logistic', one, tests.logistic) },
    { model: 'unadjusted', ...modelRow('ordinal', one, tests.ordinal) },
    { model: 'adjusted', adjusters: by, ...modelRow('logistic', adjusted, tests.adjustedLogistic) },
    { model: 'adjusted', adjusters: by, ...modelRow('ordinal', adjusted, tests.adjustedOrdinal) },
    {
      model: 'unadjustedComplete',
      kind: 'logistic',
      value: adjusted.unadjusted,
      valueReason: adjusted.unadjustedReason,
      patients: adjusted.complete,
      holmPReason: 'it is not tested: it stands beside the adjusted one',
    },
  ];
  return rows.map((row) => ({ feature: key, title, unit, step, ...row }));
}

/** The odds ratios of the features that were asked about, long. */
export const oddsTable = (features: readonly StudyFeatureResult[]): TidyTable => ({
  name: 'odds',
  says: 'A row a feature, model and kind: odds ratios of a worse outcome, in the primary window',
  key: ['feature', 'model', 'kind'],
  columns: COLUMNS,
  rows: features.flatMap(rowsOf),
});
