import type { StudyTableOneResult } from '../results-study-cohort.js';
import { NONE, share } from '../words.js';
import { hoursNumber, spreadWords, wholeOrHalf } from './spread-words.js';

export type TableOneColumn = StudyTableOneResult['all'];

/** A line of Table 1, with how many of each group it does not know. */
export interface TableOneLine {
  readonly name: string;
  readonly cell: (column: TableOneColumn) => string;
  /** Null where the line above it says so, or nobody can be missing. */
  readonly missing: ((column: TableOneColumn) => number) | null;
}

/** `12 (40 %)` of those of whom it is known. */
const ofKnown = (count: number, known: number): string =>
  known === 0 ? NONE : `${count} (${share(count / known)})`;

const spread = (
  name: string,
  key: 'ageYears' | 'gcsTotal' | 'gcsMotor' | 'therapyIntensity' | 'monitoredHours',
  number: (value: number) => string = wholeOrHalf,
): TableOneLine => ({
  name: `${name}, median (quartiles)`,
  cell: (column) => spreadWords(column[key], number),
  missing: (column) => column[key].missing,
});

const said = (name: string, key: 'craniectomy' | 'withdrawn' | 'died'): TableOneLine => ({
  name: `${name}, n (%)`,
  cell: ({ [key]: { yes, no } }) => ofKnown(yes, yes + no),
  missing: (column) => column[key].missing,
});

const PUPIL_WORDS = { 2: 'both react', 1: 'one reacts', 0: 'none reacts' } as const;

const pupils = (value: 0 | 1 | 2): TableOneLine => ({
  name: `Pupils: ${PUPIL_WORDS[value]}, n (%)`,
  cell: ({ pupilsReacting: { counts } }) => {
    const known = counts.reduce((sum, { count }) => sum + count, 0);
    return ofKnown(counts.find((one) => one.value === value)?.count ?? 0, known);
  },
  missing: ({ pupilsReacting }) => pupilsReacting.missing,
});

/** The lines of Table 1; therapy intensity where the table has it of anyone. */
export const tableOneLines = ({ all }: StudyTableOneResult): TableOneLine[] => [
  { name: 'Patients, n', cell: ({ patients }) => String(patients), missing: null },
  spread('Age, years', 'ageYears'),
  spread('GCS total', 'gcsTotal'),
  spread('GCS motor', 'gcsMotor'),
  pupils(2),
  pupils(1),
  pupils(0),
  said('Craniectomy', 'craniectomy'),
  ...(all.therapyIntensity.known === 0 ? [] : [spread('Therapy intensity', 'therapyIntensity')]),
  spread('Monitored hours of ICP in the primary window', 'monitoredHours', hoursNumber),
  said('Treatment withdrawn', 'withdrawn'),
  said('Died', 'died'),
];
