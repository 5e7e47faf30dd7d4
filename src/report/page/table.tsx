import { type ComponentChildren, isValidElement, type JSX } from 'preact';
import { visibleText } from '../visible-text.js';

import { Sideways } from './sideways.js';

/** A column of a table. */
export interface Column {
  readonly head: ComponentChildren;
  /** Right-aligned. */
  readonly number?: boolean;
}

/** A row: the first cell names it. */
export interface Row {
  readonly key: string;
  readonly cells: readonly ComponentChildren[];
  readonly kind?: 'cannot' | 'past' | undefined;
  /** A remark that stands below the row, over its whole width. */
  readonly note?: ComponentChildren;
}

interface TableProps {
  readonly caption?: ComponentChildren;
  /** `wraps`: the names of rows may take two lines, for tables of many columns. `unit`: the second column is a picture, which a narrow window leaves out. */
  readonly kind?: 'wraps' | 'unit';
  readonly columns: readonly Column[];
  readonly rows: readonly Row[];
}

/** A row's name stays on one line up to this length. */
const LONG_NAME = 20;

/** How many characters of text a cell shows. */
function lengthOf(cell: ComponentChildren): number {
  if (typeof cell === 'string' || typeof cell === 'number') return visibleText(String(cell)).length;
  if (Array.isArray(cell)) return cell.reduce((sum: number, part) => sum + lengthOf(part), 0);
  return isValidElement(cell) ? lengthOf((cell.props as { children?: ComponentChildren }).children) : 0;
}

const place = (column: Column | undefined): string | undefined => (column?.number ? 'n' : undefined);

function TableRow({ row, columns }: { row: Row; columns: readonly Column[] }): JSX.Element {
  const { key, cells, kind, note } = row;
  const hasNote = note !== undefined && note !== null && note !== '';
  const [name, ...rest] = cells;
  return (
    <>
      <tr class={[kind, hasNote ? 'noted' : ''].filter(Boolean).join(' ') || undefined}>
        <th
          scope="row"
          class={
            [place(columns[0]), lengthOf(name) > LONG_NAME ? 'long' : ''].filter(Boolean).join(' ') ||
            undefined
          }
        >
          {name}
        </th>
        {rest.map((cell, i) => (
          <td class={place(columns[i + 1])} key={`${key} ${i}`}>
            {cell}
          </td>
        ))}
      </tr>
      {hasNote && (
        <tr class={[kind, 'note-row'].filter(Boolean).join(' ')}>
          <td colSpan={columns.length}>
            <div class="beside">{note}</div>
          </td>
        </tr>
      )}
    </>
  );
}

/** A table with scoped heads; numbers stand right. */
export function Table({ caption, kind, columns, rows }: TableProps): JSX.Element {
  return (
    <Sideways kind="scroll" label="Table">
      <table class={kind}>
        {caption && (
          <caption>
            <div class="beside">{caption}</div>
          </caption>
        )}
        <thead>
          <tr>
            {columns.map((column, i) => (
              <th scope="col" class={place(column)} key={`head ${i}`}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <TableRow key={row.key} row={row} columns={columns} />
          ))}
        </tbody>
      </table>
    </Sideways>
  );
}
