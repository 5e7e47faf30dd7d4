import { saysDate } from '../columns/layout-words.js';
import { named } from './describe.js';
import { overlappingStays } from './overlapping-stays.js';
import type { Stay } from './stay.js';
import type { TableDefinition } from './table-definition.js';
import { WHOSE } from './whose.js';

/** Names of the trade, several spellings. Common practice, no source. */
const OCCUPANCY_COLUMNS = {
  patient: { ...WHOSE.patient, required: true },
  bed: { ...WHOSE.bed, required: true },
  unit: {
    type: 'text',
    title: 'the unit',
    example: 'Unit',
    names: [named('unit|ward|department|dept|care ?unit|care area|icu|station')],
  },
  from: {
    type: 'time',
    required: true,
    title: 'the beginning of the stay',
    example: 'From',
    names: [
      named(
        'from|from time|start|start time|in|time in|bed in|moved in|arrival|arrived|occupied (from|since)|since|von|fra|beginn',
      ),
      named('admission|admitted( at)?|admission time|admit( time)?|aufnahme|innlagt'),
    ],
    dateNames: (name: string) => saysDate(name) || /^(from|start|admission) date$/.test(name),
  },
  to: {
    type: 'time',
    after: 'from',
    title: 'the end of the stay',
    example: 'To',
    names: [
      named(
        'to|to time|until|till|end|end time|out|time out|bed out|moved out|left|occupied (to|until)|bis|til|ende',
      ),
      named('discharge|discharged( at)?|discharge time|transfer(red)?|entlassung|utskrevet'),
    ],
    dateNames: named('(to|end|discharge) date'),
  },
} as const;

/** The table of who lay in which bed. */
export const OCCUPANCY_TABLE: TableDefinition<typeof OCCUPANCY_COLUMNS, Stay> = {
  title: 'a table of beds',
  columns: OCCUPANCY_COLUMNS,
  requires: [['patient'], ['bed'], ['from'], ['to']],
  main: 'from',
  mayRepeat: true,
  maker:
    () =>
    ({ from, to, ...row }) => ({ ...row, fromUtcMs: from, toUtcMs: to }),
  across: overlappingStays,
  instants: ({ fromUtcMs, toUtcMs }) => [fromUtcMs, toUtcMs],
  countedAs: ({ bed }) => `bed ${bed}`,
};
