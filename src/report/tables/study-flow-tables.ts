import type { StudyResult } from '../results-study.js';
import { flag, number, patients, whole, word } from './study-columns.js';
import type { TidyTable } from './tidy-table.js';

const flowTable = ({ flow }: StudyResult): TidyTable => ({
  name: 'flow',
  says: 'A row a step from the cohort table to the analysis, in their order; the first is the table itself',
  key: ['step'],
  columns: [
    word('step', 'Step', 'table, or what patients lack who go no further'),
    word('title', 'Step in words', 'The step in words'),
    patients('excluded', 'Excluded', 'Patients who reached the step and go no further; blank for the table'),
    patients('left', 'Left', 'Patients who passed it'),
  ],
  rows: [
    { step: 'table', title: 'In the cohort table', excluded: null, left: flow.inTable },
    ...flow.steps.map(({ step, title, excluded, left }) => ({ step, title, excluded, left })),
  ],
});

const criteriaTable = ({ criteria }: StudyResult): TidyTable => ({
  name: 'criteria',
  says: 'The criteria for monitoring over the patients of the table: a row an answer, and a row a field that could decide and is blank',
  key: ['kind', 'name'],
  columns: [
    word('kind', 'Kind of row', 'status or missing'),
    word('name', 'Answer or field', 'met, notMet or cannotTell; of kind missing the field'),
    patients('patients', 'Patients', 'How many; a patient may lack several fields'),
    word('ageFrom', 'Age', 'How age counts: over40 or from40'),
  ],
  rows: [
    ...(['met', 'notMet', 'cannotTell'] as const).map((name) => ({
      kind: 'status',
      name,
      patients: criteria[name],
      ageFrom: criteria.ageFrom,
    })),
    ...criteria.missing.map(({ field, patients: n }) => ({
      kind: 'missing',
      name: field,
      patients: n,
      ageFrom: criteria.ageFrom,
    })),
  ],
});

const outcomeTable = ({ outcome }: StudyResult): TidyTable => ({
  name: 'outcome',
  says: 'A row a level of the scale, over the patients of the main analysis',
  key: ['code'],
  columns: [
    word('scale', 'Scale', 'gos, gose or mortality'),
    whole('code', 'Level', '{level}', 'Level, a higher one better; of mortality 1 for alive and 0 for dead'),
    word('title', 'Level in words', 'The level in words'),
    flag('isFavourable', 'Favourable', 'Whether it counts as favourable'),
    patients('patients', 'Patients', 'How many have it'),
    number('months', 'Months', 'mo', 'Months after the injury that are asked for; blank where any will do'),
  ],
  rows: outcome.levels.map(({ code, title, isFavourable, count }) => ({
    scale: outcome.scale,
    code,
    title,
    isFavourable,
    patients: count,
    months: outcome.months,
  })),
});

const wordTable = ({ words }: StudyResult): TidyTable => ({
  name: 'words',
  says: 'A row a sentence that has to be known before the figures are read; take it along with them',
  key: ['place'],
  columns: [
    whole('place', 'Place', '1', 'Their order, from 1'),
    word('about', 'About', 'What it is about'),
    word('sentence', 'Sentence', 'The sentence'),
  ],
  rows: words.map(({ about, sentence }, i) => ({ place: i + 1, about, sentence })),
});

/** Who is in, whether monitoring was called for, how patients fared, and what has to be known. */
export const studyFlowTables = (study: StudyResult): TidyTable[] => [
  flowTable(study),
  criteriaTable(study),
  outcomeTable(study),
  wordTable(study),
];
