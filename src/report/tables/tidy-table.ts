import { from } from 'arquero';
import { type Cell, toCsv } from './csv.js';

/** A column of a tidy table: its name, its unit in UCUM (blank where it has none), and what it holds. */
export interface TidyColumn {
  readonly name: string;
  readonly unit: string;
  readonly says: string;
}

/** A tidy table: a row an observation, a column a variable. */
export interface TidyTable {
  readonly name: string;
  readonly says: string;
  readonly columns: readonly TidyColumn[];
  readonly rows: readonly Readonly<Record<string, Cell>>[];
}

/** The table as CSV: the columns that the dictionary describes, in its order. */
export function tidyCsv({ columns, rows }: TidyTable): string {
  const names = columns.map(({ name }) => name);
  if (rows.length === 0) return toCsv(names, []);
  const table = from([...rows]).select(...names);
  return toCsv(
    names,
    table.objects().map((row) => names.map((name) => (row as Record<string, Cell>)[name])),
  );
}

/** The data dictionary of tables: a row a column. */
export const dictionary = (tables: readonly TidyTable[]): string =>
  toCsv(
    ['table', 'tableSays', 'column', 'unit', 'says'],
    tables.flatMap(({ name, says, columns }) => columns.map((c) => [name, says, c.name, c.unit, c.says])),
  );
