import type { SpreadResult, StudyTableOneResult } from '../results-study-cohort.js';
import type { Cell } from './csv.js';
import { number, why, word } from './study-columns.js';
import type { TidyTable } from './tidy-table.js';

type Column = StudyTableOneResult['all'];
type Row = Record<string, Cell>;

/** The level of a statistic over all values of a variable. */
const ALL = 'all';

const GROUPS = ['favourable', 'unfavourable', 'withoutOutcome', 'all'] as const;

const patientsRow = (variable: string, statistic: string, level: string, value: number): Row => ({
  variable,
  level,
  statistic,
  value,
  unit: '{patients}',
});

const known = (variable: string, of: { known: number; missing: number }): Row[] => [
  patientsRow(variable, 'known', ALL, of.known),
  patientsRow(variable, 'missing', ALL, of.missing),
];

const quartiles = (variable: string, unit: string, of: SpreadResult): Row[] =>
  (['median', 'lowerQuartile', 'upperQuartile'] as const).map((statistic) => ({
    variable,
    level: ALL,
    statistic,
    value: of[statistic],
    valueReason: of[`${statistic}Reason`],
    unit,
  }));

const spreadRows = (variable: string, unit: string, of: SpreadResult): Row[] => [
  ...known(variable, of),
  ...quartiles(variable, unit, of),
];

const countRows = (variable: string, { counts }: Column['pupilsReacting']): Row[] =>
  counts.map(({ value, count }) => patientsRow(variable, 'patients', String(value), count));

const answerRows = (variable: string, { yes, no, missing }: Column['died']): Row[] => [
  patientsRow(variable, 'patients', 'yes', yes),
  patientsRow(variable, 'patients', 'no', no),
  patientsRow(variable, 'missing', ALL, missing),
];

const rowsOf = (of: Column): Row[] => [
  patientsRow('patients', 'patients', ALL, of.patients),
  ...spreadRows('ageYears', 'a', of.ageYears),
  ...spreadRows('gcsMotor', '{points}', of.gcsMotor),
  ...countRows('gcsMotor', of.gcsMotor),
  ...spreadRows('gcsTotal', '{points}', of.gcsTotal),
  ...countRows('gcsTotal', of.gcsTotal),
  ...countRows('pupilsReacting', of.pupilsReacting),
  patientsRow('pupilsReacting', 'missing', ALL, of.pupilsReacting.missing),
  ...spreadRows('therapyIntensity', '1', of.therapyIntensity),
  ...spreadRows('monitoredHours', 'h', of.monitoredHours),
  ...answerRows('died', of.died),
  ...answerRows('craniectomy', of.craniectomy),
  ...answerRows('withdrawn', of.withdrawn),
];

/** Who the patients are, long. */
export const studyTableOne = (tableOne: StudyTableOneResult): TidyTable => ({
  name: 'table1',
  says: 'Who the patients are: a row a group, variable, level and statistic',
  key: ['group', 'variable', 'level', 'statistic'],
  columns: [
    word(
      'group',
      'Group',
      'favourable, unfavourable, withoutOutcome (monitored for long enough, and without one), or all three together',
    ),
    word('variable', 'Variable', 'As in the table patients; monitoredHours is icpMonitoredHours there'),
    word('level', 'Level', 'What is counted; all for a statistic over all values'),
    word('statistic', 'Statistic', 'patients, known, missing, median, lowerQuartile or upperQuartile'),
    number('value', 'Value', '', 'The statistic, in the unit of its row', {
      definition: 'Counts; quantiles of the known values, linear between them (type 7).',
      source: 'Hyndman & Fan, Am Stat 1996;50:361-5',
    }),
    why('value', 'Value'),
    word('unit', 'Unit', 'Unit of the value, UCUM'),
  ],
  rows: GROUPS.flatMap((group) => rowsOf(tableOne[group]).map((row) => ({ group, ...row }))),
});
