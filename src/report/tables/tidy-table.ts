import { from } from 'arquero';
import { type Cell, csvRows, toCsv } from './csv.js';

/** What the cells of a column are: text, numbers (64-bit floating point), whole numbers, or true and false. */
export type ColumnType = 'string' | 'double' | 'int' | 'boolean';

/** A column of a tidy table: its name, its unit in UCUM (blank where it has none), and what it holds. */
export interface TidyColumn {
  readonly name: string;
  readonly unit: string;
  readonly says: string;
  /** Read off the cells where it is not given. */
  readonly type?: ColumnType;
  /** For people; the name stands where there is none. */
  readonly title?: string;
  /** How the figure is made, a sentence. */
  readonly definition?: string;
  readonly source?: string;
  /** Coarsest sampling at which the figure can be had, seconds; null where it can at any. */
  readonly samplingSeconds?: number | null;
}

/** A tidy table: a row an observation, a column a variable. */
export interface TidyTable {
  readonly name: string;
  readonly says: string;
  readonly columns: readonly TidyColumn[];
  /** Names of the columns that together tell a row from all others; none of them has a missing cell. */
  readonly key?: readonly string[];
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
