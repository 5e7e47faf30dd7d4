import { from } from 'arquero';
import { type Cell, csvRows, toCsv } from './csv.js';

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

const namesOf = ({ columns }: TidyTable): string[] => columns.map(({ name }) => name);

/** The header of the table's CSV. */
export const tidyHeader = (table: TidyTable): string => toCsv(namesOf(table), []);

/** The rows of the table's CSV: the columns that the dictionary describes, in its order. */
export function tidyRows(table: TidyTable): string {
  if (table.rows.length === 0) return '';
  const names = namesOf(table);
  const selected = from([...table.rows]).select(...names);
  return csvRows(selected.objects().map((row) => names.map((name) => (row as Record<string, Cell>)[name])));
}

/** The table as CSV. */
export const tidyCsv = (table: TidyTable): string => tidyHeader(table) + tidyRows(table);

/** The data dictionary of tables: a row a column. */
export const dictionary = (tables: readonly TidyTable[]): string =>
  toCsv(
    ['table', 'tableSays', 'column', 'unit', 'says'],
    tables.flatMap(({ name, says, columns }) => columns.map((c) => [name, says, c.name, c.unit, c.says])),
  );
