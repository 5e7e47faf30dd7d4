import { type ColumnSource, parquetWriteBuffer } from 'hyparquet-writer';
import { type ColumnCells, columnCells } from './column-cells.js';
import { describedColumn } from './described-column.js';
import type { TidyTable } from './tidy-table.js';

/** Numbers are written plain: a dictionary of values would hold 0 and -0 as one. */
const sourceOf = ({ column: { name }, type, cells }: ColumnCells): ColumnSource => {
  switch (type) {
    case 'string':
      return { name, data: [...cells], type: 'STRING' };
    case 'double':
      return { name, data: [...cells], type: 'DOUBLE', encoding: 'PLAIN' };
    case 'int':
      return { name, data: cells.map((cell) => (cell === null ? null : BigInt(cell))), type: 'INT64' };
    case 'boolean':
      return { name, data: [...cells], type: 'BOOLEAN' };
  }
};

/**
 * The table as Apache Parquet: text as UTF-8 strings, numbers as doubles, whole numbers as 64-bit integers, missing cells as
 * nulls. Text stands as it is: nothing of it is neutralised, since no spreadsheet opens such a file. The key-value metadata of
 * the file say what the table is (`table`, `description`, `units`), and in `columns`, as JSON, what each column is. The same
 * table gives the same bytes.
 *
 * @throws Error as `columnCells` does
 */
export function parquetOf(table: TidyTable): Uint8Array {
  const columns = columnCells(table);
  const described = columns.map(({ column, type }) => describedColumn(column, type));
  return new Uint8Array(
    parquetWriteBuffer({
      columnData: columns.map(sourceOf),
      createdBy: 'cistern',
      kvMetadata: [
        { key: 'table', value: table.name },
        { key: 'description', value: table.says },
        { key: 'units', value: 'UCUM' },
        ...(table.key ? [{ key: 'key', value: JSON.stringify(table.key) }] : []),
        { key: 'columns', value: JSON.stringify(described) },
      ],
    }),
  );
}
