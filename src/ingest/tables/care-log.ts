import type { CareKind } from '../../recording/care.js';
import { shorten } from '../../recording/problem.js';
import { saysDate, saysTime } from '../columns/layout-words.js';
import { placed } from '../rows/correct-cell.js';
import { angleIn, careKinds } from './care-words.js';
import { CellFault } from './cell-fault.js';
import { named, type RowPlace } from './describe.js';
import { remembered } from './remembered.js';
import type { TableDefinition } from './table-definition.js';
import { nobodysRow, WHOSE, type Whose } from './whose.js';

/** What was done at a bed; times are milliseconds UTC. */
export interface CareRow extends RowPlace, Whose {
  readonly startUtcMs: number;
  readonly endUtcMs: number | null;
  readonly kind: CareKind;
  /** What else the same entry tells, as in "turned and suctioned". */
  readonly also: readonly CareKind[];
  /** As written. */
  readonly text: string;
  /** Of the head of the bed, where the entry is about it and gives one. */
  readonly angleDegrees: number | null;
  /** The drug or other treatment as far as its columns name it. */
  readonly treatment: { readonly name: string; readonly dose: string | null } | null;
  readonly value: string | null;
  readonly note: string | null;
}

/** Names of the trade, several spellings. Common practice, no source. */
const CARE_COLUMNS = {
  ...WHOSE,
  start: {
    type: 'time',
    required: true,
    title: 'the start',
    example: 'Start',
    names: [
      named(
        'start|start time|started( at)?|begin|began|from|time of (event|care|procedure)|event time|onset|beginn|von|fra',
      ),
      saysTime,
    ],
    dateNames: (name: string) => saysDate(name) || /^(start|event) date$/.test(name),
  },
  end: {
    type: 'time',
    after: 'start',
    title: 'the end',
    example: 'End',
    names: [
      named(
        'end|end time|ended( at)?|stop|stop time|stopped( at)?|to|until|till|finish(ed)?|ende|bis|til|slutt',
      ),
    ],
    dateNames: named('(end|stop) date'),
  },
  kind: {
    type: 'text',
    title: 'the kind of care',
    example: 'Event',
    names: [
      named(
        'kind|kind of care|event|event (type|name)|type|care|care (type|event)|activity|procedure|intervention|nursing (activity|intervention|care)|action|what|entry|handling|ma(ß|ss)nahme|ereignis|tiltak|hendelse',
      ),
    ],
  },
  value: {
    type: 'text',
    title: 'the value',
    example: 'Value',
    names: [named('value|angle|hob|hob angle|head of bed( angle)?|degrees|wert|verdi')],
  },
  drug: {
    type: 'text',
    title: 'the drug or treatment',
    example: 'Drug',
    names: [named('drug|drug name|medication|medicine|treatment|therapy|medikament|legemiddel')],
  },
  dose: {
    type: 'text',
    title: 'the dose',
    example: 'Dose',
    names: [named('dose|dosage|amount|drug dose|dosis|dosering')],
  },
  note: {
    type: 'text',
    title: 'the note',
    example: 'Note',
    names: [
      named(
        'note|notes|comment|comments|remark|remarks|free text|details?|text|description|bemerkung|kommentar|merknad',
      ),
    ],
  },
} as const;

/** The care log. */
export const CARE_LOG: TableDefinition<typeof CARE_COLUMNS, CareRow> = {
  title: 'a care log',
  columns: CARE_COLUMNS,
  requires: [['patient', 'bed'], ['start'], ['kind', 'drug', 'note']],
  main: 'start',
  mayRepeat: true,
  maker: (context) => {
    const kindsOf = remembered(careKinds);
    /** A row set aside would leave the angle before it in force, so a cell that gives none leaves it unknown. */
    const angleOf = (text: string, line: number): number | null => {
      if (/^flat$/i.test(text)) return 0;
      const value = context.numbers.read(text.replace(/ ?(?:°|deg|degrees?)$/i, ''), line);
      if (value >= 0 && value <= 90) return value;
      const what = Number.isFinite(value)
        ? `${shorten(text)} lies outside 0 to 90 degrees`
        : `"${shorten(text)}" is no angle in degrees`;
      const header = context.column('value')?.header ?? '';
      context.note(line, `${placed(header, what)}, so the angle of the head of the bed is not known`);
      return null;
    };
    return ({ start, end, kind: cell, drug, dose, ...row }) => {
      const nobody = nobodysRow(row);
      if (nobody) return nobody;
      const text = cell ?? drug ?? row.note;
      if (text === null) {
        return new CellFault('nothing says what was done', 'A row without it cannot be used: fill it in.');
      }
      // A drug's name need not be known here where it stands in the column of drugs.
      const told = cell === null && drug !== null ? (['treatment'] as const) : kindsOf(text);
      const [kind, ...also] = told[0] === 'other' && drug !== null ? (['treatment'] as const) : told;
      const isHead = kind === 'headOfBed' || also.includes('headOfBed');
      const { value, line } = row;
      const angle = !isHead ? null : value === null ? angleIn(text) : angleOf(value, line);
      const name = drug ?? (kind === 'treatment' ? text : null);
      return {
        ...row,
        startUtcMs: start,
        endUtcMs: end,
        kind,
        also,
        text,
        angleDegrees: angle,
        treatment: name === null ? null : { name, dose },
      };
    };
  },
  instants: ({ startUtcMs, endUtcMs }) => [startUtcMs, endUtcMs],
  countedAs: ({ kind }) => kind,
};
