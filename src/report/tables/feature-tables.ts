import type { Feature } from '../../summarize/study/feature.js';
import type { FeatureRow } from '../../summarize/study/feature-rows.js';
import { FEATURES } from '../../summarize/study/features.js';
import type { Cell } from './csv.js';
import { FEATURE, STUDY_PATIENT, UNIT } from './study-columns.js';
import type { TidyColumn, TidyTable } from './tidy-table.js';

/** The features of a cohort in two forms that hold the same. */
export interface FeatureTables {
  /** A row a patient, window and feature. */
  readonly long: TidyTable;
  /** A row a patient and window, a column a feature and one for why it is missing. */
  readonly wide: TidyTable;
}

const KEY = ['patient', 'windowId'];

const WINDOW: readonly TidyColumn[] = [
  STUDY_PATIENT,
  {
    name: 'windowId',
    title: 'Window of the patient',
    unit: '',
    says: 'primary, stay, day-1 and so on; days where no days can be told. One of a kind within a patient',
    type: 'string',
  },
  {
    name: 'window',
    title: 'Kind of window',
    unit: '',
    says: 'primary: the first hours of monitoring, as many as the study asks for; stay: all of monitoring; day: 24 h counted from the injury',
    type: 'string',
  },
  {
    name: 'day',
    title: 'Day since injury',
    unit: '',
    says: 'Of a day, which one since injury, the first one 1; blank for other windows',
    type: 'int',
  },
  {
    name: 'startHours',
    title: 'Start of the window',
    unit: 'h',
    says: 'From the start of monitoring to the start of the window; blank where there is none',
    type: 'double',
  },
  {
    name: 'endHours',
    title: 'End of the window',
    unit: 'h',
    says: 'From the start of monitoring to the end of the window; blank where there is none',
    type: 'double',
  },
  {
    name: 'endsBy',
    title: 'What ends the window',
    unit: '',
    says: 'What the window ends by: length (all of it), withdrawn, brainDeath, death, monitoringTo (end of monitoring) or data (end of the exports)',
    type: 'string',
  },
  {
    name: 'windowReason',
    title: 'Why there is no window',
    unit: '',
    says: 'Why there is no such window; blank where there is one',
    type: 'string',
  },
];

function windowCells({ patient, kind, day, window }: FeatureRow): Record<string, Cell> {
  const found = 'reason' in window ? null : window;
  const isDay = kind === 'day';
  return {
    patient,
    windowId: isDay ? (day === null ? 'days' : `day-${day}`) : kind,
    window: kind,
    day,
    startHours: found?.startHours ?? null,
    endHours: found?.endHours ?? null,
    endsBy: found?.endsBy ?? null,
    windowReason: 'reason' in window ? window.reason : null,
  };
}

/** Value and reason of a feature in a row; one of them is null. */
function cellsOf({ patient, window }: FeatureRow, key: string): { value: Cell; reason: Cell } {
  if ('reason' in window) return { value: null, reason: window.reason };
  const figure = window.features[key];
  if (figure === undefined) throw new Error(`The feature ${key} of ${patient} was not computed`);
  return typeof figure === 'number'
    ? { value: figure, reason: null }
    : { value: null, reason: figure.reason };
}

/** A bare count such as `{episodes}` in UCUM is a whole number; a rate such as `{episodes}/d` is none. */
const typeOf = ({ unit }: Feature): 'int' | 'double' => (/^\{[^}]*\}$/.test(unit) ? 'int' : 'double');

const wideColumns = (feature: Feature): TidyColumn[] => [
  {
    name: feature.key,
    title: feature.title,
    unit: feature.unit,
    says: `${feature.title}.`,
    type: typeOf(feature),
    definition: feature.definition,
    source: feature.source,
    samplingSeconds: feature.coarsestSeconds,
  },
  {
    name: `${feature.key}Reason`,
    title: `${feature.title}: why it is missing`,
    unit: '',
    says: `Why ${feature.key} is missing; blank where it is not`,
    type: 'string',
  },
];

const LONG: readonly TidyColumn[] = [
  FEATURE,
  {
    name: 'value',
    title: 'Value',
    unit: '',
    says: 'The feature, in the unit of its row; its definition stands at its column of features',
    type: 'double',
  },
  UNIT,
  {
    name: 'reason',
    title: 'Why it is missing',
    unit: '',
    says: 'Why the value is missing; blank where it is not',
    type: 'string',
  },
];

/**
 * The features of burden per patient and window, as long and as wide tables in the order of the rows. A feature that is
 * missing has its reason beside it, and that of its window where there is no such window.
 *
 * @param features those that each row has, as `featuresOf` gives them for the study's thresholds
 * @throws Error where a row lacks one of them
 */
export const featureTable = (
  rows: readonly FeatureRow[],
  features: readonly Feature[] = FEATURES,
): FeatureTables => ({
  long: {
    name: 'features-long',
    says: 'A row a patient, window and feature',
    key: [...KEY, 'feature'],
    columns: [...WINDOW, ...LONG],
    rows: rows.flatMap((row) => {
      const window = windowCells(row);
      return features.map(({ key, unit }) => ({ ...window, feature: key, unit, ...cellsOf(row, key) }));
    }),
  },
  wide: {
    name: 'features',
    says: 'A row a patient and window, with each feature of burden',
    key: KEY,
    columns: [...WINDOW, ...features.flatMap(wideColumns)],
    rows: rows.map((row) => {
      const cells = windowCells(row);
      for (const { key } of features) {
        const { value, reason } = cellsOf(row, key);
        cells[key] = value;
        cells[`${key}Reason`] = reason;
      }
      return cells;
    }),
  },
});
