import type { ZoneClock } from '../../recording/zone.js';
import type { NumberReader } from '../rows/number-reader.js';
import type { CellFault } from './cell-fault.js';
import type { Description, RowOf, RowPlace } from './describe.js';
import type { FoundColumn, TableShape } from './name-columns.js';
import type { TableColumnChoice } from './table-settings.js';
import type { Note } from './time-cells.js';

/** What is known of a file while its rows are made. */
export interface TableContext {
  readonly numbers: NumberReader;
  /** The column of a key; undefined where the file has none. */
  readonly column: (key: string) => FoundColumn | undefined;
  readonly choice: (key: string) => TableColumnChoice;
  /** All cells of a column that hold something, whatever becomes of their rows. */
  readonly cells: (key: string) => readonly { readonly text: string; readonly line: number }[];
  readonly note: Note;
}

/** Makes a row of its cells, or says why it cannot be used. */
export type RowMaker<D extends Description, R> = (row: RowOf<D>) => R | CellFault;

/** A kind of table: what its columns are and what becomes of them. */
export interface TableDefinition<D extends Description, R extends RowPlace> extends TableShape {
  readonly columns: D;
  /** The key that every row has, from which it is told whether a line is a row at all. */
  readonly main: keyof D & string;
  /** False where a row that stands twice is no mere repetition. */
  readonly mayRepeat: boolean;
  /** True for rows that the table holds and nobody asks for; null stands for a cell without a value. */
  readonly passesOver?: (cell: (key: keyof D & string) => string | null) => boolean;
  /** @throws Problem where the columns together cannot be understood */
  readonly maker: (context: TableContext) => RowMaker<D, R>;
  /** Rows that contradict each other, with the reason. */
  readonly across?: (
    rows: readonly R[],
    clock: ZoneClock,
    context: TableContext,
  ) => ReadonlyMap<R, CellFault>;
  /** Instants that a row names, for the first and last time of the table. */
  readonly instants: (row: R) => readonly (number | null | undefined)[];
  /** What a row is counted as. */
  readonly countedAs: (row: R) => string;
}
