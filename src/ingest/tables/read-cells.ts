import { shorten } from '../../recording/problem.js';
import { CellFault } from './cell-fault.js';
import type { CellReader, CellValue } from './cell-reader.js';
import { type Description, isBefore, type Moment } from './describe.js';
import type { FoundColumn } from './name-columns.js';
import type { Reference } from './time-cells.js';
import type { TimeColumnPlan } from './time-column.js';

/** A column with what reads it. */
export interface ReadColumn {
  readonly column: FoundColumn;
  readonly planned: TimeColumnPlan | null;
  readonly read: CellReader;
  /** The text of a row's cell; date and time of day joined where they stand apart. */
  readonly textOf: (cells: readonly string[]) => string;
}

/** What to do about times that cannot come in this order. */
export const ORDER_FIX = 'Correct the cell, or look at the clocks that the two times come from.';

/** The moment that a value names, if it names one. */
function momentIn(value: CellValue | null): Moment | null {
  if (typeof value !== 'object' || value === null) return null;
  if ('utcMs' in value) return value;
  return 'happened' in value ? value.at : null;
}

/** Columns of instants give numbers; wherever a day will do, the moment is kept whole. */
const keptValue = (value: CellValue | null, { type }: FoundColumn['spec']): CellValue | null =>
  type === 'time' ? (momentIn(value)?.utcMs ?? null) : value;

/** A row of a table before its cells are read: the file, and null for each key. */
export type BlankRow = Readonly<Record<string, unknown>>;

export const blankRow = (file: string, description: Description): BlankRow => ({
  file,
  line: 0,
  ...Object.fromEntries(Object.keys(description).map((key) => [key, null])),
});

/** Reads the cells of a row by key; all that is wrong with it stands in one fault. */
export function readCells(
  columns: readonly ReadColumn[],
  blank: BlankRow,
  cells: readonly string[],
  line: number,
): Readonly<Record<string, unknown>> | CellFault {
  const row: Record<string, unknown> = { ...blank, line };
  let references: Map<string, Reference> | null = null;
  const faults: CellFault[] = [];
  for (const { column, read, textOf } of columns) {
    const { key, header, spec } = column;
    const text = textOf(cells);
    const after = ('after' in spec && spec.after !== undefined && references?.get(spec.after)) || null;
    const value = read(text, line, after);
    if (value instanceof CellFault) {
      faults.push(value.in(header));
      continue;
    }
    if (value === null && spec.required) {
      faults.push(new CellFault('it is blank', 'A row without it cannot be used: fill it in.').in(header));
    }
    const moment = momentIn(value);
    if (moment && after && isBefore(moment, after.moment)) {
      const what = `"${shorten(text)}" is before "${shorten(after.header)}", "${shorten(after.text)}"`;
      faults.push(new CellFault(what, ORDER_FIX, 'order').in(header));
    }
    if (moment) references = (references ?? new Map<string, Reference>()).set(key, { moment, header, text });
    row[key] = keptValue(value, spec);
  }
  if (faults.length === 0) return row;
  return new CellFault(faults.map(({ what }) => what).join('; '), faults[0].fix, faults[0].kind);
}
