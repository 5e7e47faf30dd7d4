import { saysDate } from '../columns/layout-words.js';
import { CellFault } from './cell-fault.js';
import { named, type RowPlace } from './describe.js';
import type { TableDefinition } from './table-definition.js';
import { WHOSE } from './whose.js';

/** From when on which lower target of CPP holds for a patient. */
export interface TargetRow extends RowPlace {
  readonly patient: string;
  /** Milliseconds UTC, the start of the day where no time of day is given; null: from the start. */
  readonly from: number | null;
  /** Milliseconds UTC, the end of the day where no time of day is given; null: until the next one. */
  readonly until: number | null;
  readonly cppBelowMmHg: number;
}

/** Names of the trade. Common practice, no source. */
const TARGET_COLUMNS = {
  patient: { ...WHOSE.patient, required: true },
  from: {
    type: 'date',
    title: 'the time from which a target holds',
    example: 'From',
    names: [named('from|from time|start|start time|since|valid from|starting|ordered( at)?|von|ab|fra')],
    dateNames: (name: string) => saysDate(name) || /^(from|start) date$/.test(name),
  },
  until: {
    type: 'date',
    after: 'from',
    title: 'the time until which a target holds',
    example: 'Until',
    names: [
      named(
        'until|till|to|to time|end|end time|ends|valid (until|till|to)|through|stop|stop time|stopped( at)?|expires|bis|til|slutt|ende',
      ),
    ],
    dateNames: named('(until|to|end|stop) date'),
  },
  cpp: {
    type: 'number',
    required: true,
    quantity: 'cpp',
    low: 20,
    high: 150,
    title: 'the lower target of CPP',
    example: 'CPP target (mmHg)',
    names: [
      named(
        '(lower )?(cpp|cerebral perfusion pressure)( (lower|low|min|minimum))?( (target|goal|aim|limit|floor))?( (low|lower|min|minimum))?|(target|goal|min|minimum) (cpp|cerebral perfusion pressure)',
      ),
    ],
    fix: 'A target that is no such pressure cannot count: write one, such as 60; a row without a target has to go.',
  },
} as const;

/** The table of CPP targets by patient and date. */
export const TARGET_TABLE: TableDefinition<typeof TARGET_COLUMNS, TargetRow> = {
  title: 'a table of CPP targets',
  columns: TARGET_COLUMNS,
  requires: [['patient'], ['cpp']],
  main: 'patient',
  mayRepeat: true,
  maker:
    () =>
    ({ file, line, patient, from, until, cpp }) =>
      from !== null && until !== null && until.endUtcMs <= from.utcMs
        ? new CellFault('the target ends when it begins', 'Correct one of the two times.', 'conflict')
        : {
            file,
            line,
            patient,
            from: from?.utcMs ?? null,
            until: until?.endUtcMs ?? null,
            cppBelowMmHg: cpp,
          },
  instants: ({ from, until }) => [from, until],
  countedAs: ({ cppBelowMmHg }) => `CPP ${Number(cppBelowMmHg.toFixed(1))} mmHg`,
};
