import { END, PATIENT, START } from './columns.js';
import type { Reported } from './reported.js';
import type { TidyTable } from './tidy-table.js';

/** Removals of ICP that a page shows one by one: the ten largest, and all that rose by 40 mmHg or more. */
export const removals = ({ recordings }: Reported): TidyTable => ({
  name: 'removals',
  says: 'A row a removal of ICP among the ten largest of a patient, or that rose by 40 mmHg or more',
  columns: [
    PATIENT,
    START,
    END,
    { name: 'rules', unit: '', says: 'Cleaning rules that took parts of it' },
    { name: 'decidedBy', unit: '', says: 'Who decided on it, where a person did' },
    { name: 'baselineMmHg', unit: 'mm[Hg]', says: 'Median of what was kept in the 2 min before' },
    { name: 'highestMmHg', unit: 'mm[Hg]', says: 'Highest sample, as exported' },
    { name: 'lowestMmHg', unit: 'mm[Hg]', says: 'Lowest sample, as exported' },
    { name: 'riseMmHg', unit: 'mm[Hg]', says: 'From the baseline to the highest sample' },
    { name: 'areaMmHgMinutes', unit: 'mm[Hg].min', says: 'Between the signal as exported and the baseline' },
    {
      name: 'largest',
      unit: '',
      says: 'Place among the ten largest by area; blank where it is none of them',
    },
    { name: 'logged', unit: '', says: 'Entry of the care log on which the rule itself rests' },
    { name: 'evidence', unit: '', says: 'What else speaks for it: MAP, the care log' },
  ],
  rows: recordings.flatMap(({ id, largestRemovals, largeExcursions }) => {
    const further = largeExcursions.filter(
      (one) => !largestRemovals.some(({ start }) => start === one.start),
    );
    return [...largestRemovals, ...further]
      .map((one, i) => ({
        ...one,
        patient: id,
        rules: one.rules.join(' '),
        decidedBy: one.decidedBy.join(', '),
        largest: i < largestRemovals.length ? i + 1 : null,
      }))
      .sort((a, b) => Date.parse(a.start) - Date.parse(b.start));
  }),
});

/** Agreement of two sources of ICP. */
export const agreement = ({ recordings }: Reported): TidyTable => ({
  name: 'agreement',
  says: 'A row a patient with two sources of ICP: limits of agreement on 1-min means (Bland & Altman 1986)',
  columns: [
    PATIENT,
    { name: 'firstHeader', unit: '', says: 'Header of the first source' },
    { name: 'secondHeader', unit: '', says: 'Header of the second source' },
    { name: 'minutes', unit: 'min', says: 'In which both are known for half or more' },
    { name: 'meanDifferenceMmHg', unit: 'mm[Hg]', says: 'First minus second' },
    { name: 'sdMmHg', unit: 'mm[Hg]', says: 'Standard deviation of the differences' },
    { name: 'lowerLimitMmHg', unit: 'mm[Hg]', says: 'Mean - 1.96 SD' },
    { name: 'upperLimitMmHg', unit: 'mm[Hg]', says: 'Mean + 1.96 SD' },
    { name: 'zeroMoves', unit: '{moves}', says: 'Lasting changes of the difference: a zero may have moved' },
  ],
  rows: recordings.flatMap(({ id, agreement }) =>
    agreement === null
      ? []
      : [{ ...agreement, patient: id, zeroMoves: agreement.zeroMoves.length, hours: null }],
  ),
});
