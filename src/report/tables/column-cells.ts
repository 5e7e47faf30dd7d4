import type { Cell } from './csv.js';
import type { ColumnType, TidyColumn, TidyTable } from './tidy-table.js';

/** A cell as a reader of a written table has it. */
export type ReadCell = string | number | boolean | null;

/** A column with its type, and its cells from the first row to the last. */
export interface ColumnCells {
  readonly column: TidyColumn;
  readonly type: ColumnType;
  readonly cells: readonly ReadCell[];
}

/** Text without a character is missing, as it is in CSV, so that each form of a table says the same. Own convention. */
const isMissing = (cell: Cell): cell is null | undefined | '' =>
  cell === null || cell === undefined || cell === '';

const FITS: Readonly<Record<ColumnType, (cell: ReadCell) => boolean>> = {
  string: (cell) => typeof cell === 'string',
  double: (cell) => Number.isFinite(cell),
  int: (cell) => Number.isSafeInteger(cell),
  boolean: (cell) => typeof cell === 'boolean',
};

/** All numbers are `double` and never `int`: a column of whole numbers may hold another one tomorrow. */
function seenType(cells: readonly ReadCell[], unit: string): ColumnType {
  const known = cells.filter((cell) => cell !== null);
  if (known.length === 0) return unit === '' ? 'string' : 'double';
  if (known.every((cell) => typeof cell === 'number')) return 'double';
  return known.every((cell) => typeof cell === 'boolean') ? 'boolean' : 'string';
}

/**
 * The columns of a table, in its order, each cell of the column's type or null. A column without a type gets the one that its
 * cells have, and text where they are of several kinds: where the rows of a table are written in parts, columns have to say it.
 *
 * @throws Error where two columns have one name, where a cell is not of its column's type, where a number is not finite, and
 * where a key is missing or stands twice: faults of the program
 */
export function columnCells(table: TidyTable): ColumnCells[] {
  const names = new Set(table.columns.map(({ name }) => name));
  if (names.size < table.columns.length) throw new Error(`Two columns of ${table.name} have one name`);
  checkKey(table, names);
  return table.columns.map((column) => {
    const raw = table.rows.map((row): ReadCell => {
      const cell = row[column.name];
      return isMissing(cell) ? null : cell;
    });
    const type = column.type ?? seenType(raw, column.unit);
    const cells =
      column.type === undefined && type === 'string'
        ? raw.map((cell) => (cell === null ? null : String(cell)))
        : raw;
    const wrong = cells.find((cell) => cell !== null && !FITS[type](cell));
    if (wrong !== undefined) {
      throw new Error(`${table.name}.${column.name} is ${type}, and a cell of it is ${String(wrong)}`);
    }
    return { column, type, cells };
  });
}

function checkKey({ name, key, rows }: TidyTable, names: ReadonlySet<string>): void {
  if (!key) return;
  const unknown = key.find((one) => !names.has(one));
  if (unknown !== undefined) throw new Error(`The key of ${name} names no column of it: ${unknown}`);
  const seen = new Set<string>();
  for (const row of rows) {
    if (key.some((one) => isMissing(row[one]))) throw new Error(`A row of ${name} has no ${key.join(', ')}`);
    const text = JSON.stringify(key.map((one) => row[one]));
    if (seen.has(text)) throw new Error(`Two rows of ${name} have the key ${text}`);
    seen.add(text);
  }
}
