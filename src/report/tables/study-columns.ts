import type { Cell } from './csv.js';
import type { ColumnType, TidyColumn } from './tidy-table.js';

/** How a measure is made, and where that comes from. */
export interface MeasureSource {
  readonly definition: string;
  readonly source: string;
}

const of =
  (type: ColumnType) =>
  (name: string, title: string, unit: string, says: string, measure?: MeasureSource): TidyColumn => ({
    name,
    title,
    unit,
    says,
    type,
    ...measure,
  });

/** Columns of a study by what they hold; a figure in the unit of its row has none of its own. */
export const number = of('double');
export const whole = of('int');
export const word = (name: string, title: string, says: string): TidyColumn =>
  of('string')(name, title, '', says);
export const flag = (name: string, title: string, says: string): TidyColumn =>
  of('boolean')(name, title, '', says);
export const patients = (name: string, title: string, says: string): TidyColumn =>
  whole(name, title, '{patients}', says);

/** Why a figure is missing. */
export const why = (of: string, title: string): TidyColumn =>
  word(`${of}Reason`, `${title}: why it is missing`, `Why ${of} is missing; blank where it is not`);

export const STUDY_PATIENT = word(
  'patient',
  'Patient',
  'The patient, as text: a pseudonym, or the number where the study asks for numbers',
);
export const FEATURE = word('feature', 'Feature', 'Name of its column in the table features');
export const TITLE = word('title', 'Feature in words', 'The feature in words');
export const UNIT = word('unit', 'Unit', 'Unit of the feature, UCUM');
export const STEP = number(
  'step',
  'Step of odds ratios',
  '',
  'How much more of the feature odds ratios are of, in the unit of the row',
);

const QUARTILES: MeasureSource = {
  definition: 'Quantiles of the known values, linear between them (type 7).',
  source: 'Hyndman & Fan, Am Stat 1996;50:361-5',
};

/** Median and quartiles of a figure in the unit of its row. */
export const SPREAD: readonly TidyColumn[] = [
  patients('known', 'Patients with a value', 'Patients of whom it is known'),
  patients('missing', 'Patients without a value', 'Patients of whom it is not known'),
  number('median', 'Median', '', 'Median, in the unit of the row', QUARTILES),
  number('lowerQuartile', 'Lower quartile', '', 'Quartile, in the unit of the row', QUARTILES),
  number('upperQuartile', 'Upper quartile', '', 'Quartile, in the unit of the row', QUARTILES),
];

/** The same columns under names with a word in front: `favourableMedian`. */
export const prefixed = (word: string, title: string, columns: readonly TidyColumn[]): TidyColumn[] =>
  columns.map((column) => ({
    ...column,
    name: `${word}${column.name[0].toUpperCase()}${column.name.slice(1)}`,
    title: `${title}: ${column.title ?? column.name}`,
    says: `${title}: ${column.says}`,
  }));

/** Their cells. */
export const prefixedCells = (
  word: string,
  columns: readonly TidyColumn[],
  cells: Readonly<Record<string, unknown>>,
): Record<string, Cell> =>
  Object.fromEntries(
    columns.map(({ name }) => [
      `${word}${name[0].toUpperCase()}${name.slice(1)}`,
      (cells[name] ?? null) as Cell,
    ]),
  );
