import { columnCells } from './column-cells.js';
import { describedColumn } from './described-column.js';
import type { TidyTable } from './tidy-table.js';

/** The data dictionary of a study's tables: a row a column, with how each figure is made and the sampling it needs. */
export const studyDictionary = (tables: readonly TidyTable[]): TidyTable => ({
  name: 'dictionary',
  says: 'A row a column of the other tables',
  key: ['table', 'column'],
  columns: [
    { name: 'table', unit: '', says: 'Name of the table, and of its file', type: 'string' },
    { name: 'tableSays', unit: '', says: 'What a row of the table is', type: 'string' },
    { name: 'column', unit: '', says: 'Name of the column', type: 'string' },
    { name: 'title', unit: '', says: 'The name of the column in words', type: 'string' },
    { name: 'type', unit: '', says: 'string, double, int (64 bits) or boolean', type: 'string' },
    { name: 'unit', unit: '', says: 'UCUM; blank where it has none', type: 'string' },
    { name: 'says', unit: '', says: 'What the column holds', type: 'string' },
    { name: 'definition', unit: '', says: 'How a figure is made; blank for what is none', type: 'string' },
    { name: 'source', unit: '', says: 'Where the definition comes from', type: 'string' },
    {
      name: 'samplingSeconds',
      unit: 's',
      says: 'Coarsest interval between samples at which a figure can be had; blank where it can at any',
      type: 'double',
    },
  ],
  rows: tables.flatMap((table) =>
    columnCells(table).map(({ column, type }) => ({
      table: table.name,
      tableSays: table.says,
      ...describedColumn(column, type),
    })),
  ),
});
