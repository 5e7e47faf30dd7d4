import { Problem } from '../../recording/problem.js';
import type { ZoneClock } from '../../recording/zone.js';
import type { LeftAlone } from '../columns/columns.js';
import { missingMarks, NumberReader } from '../rows/number-reader.js';
import { badRowsIn, type RowSetAside, tooManyBad } from '../rows/set-aside.js';
import { headerAgain, sameCells } from '../text/header-again.js';
import type { Layout } from '../text/layout.js';
import type { CsvRecord } from '../text/parse-records.js';
import { CellFault } from './cell-fault.js';
import { cellReader, holdsTimes, isOtherThanTime, unitShown } from './cell-reader.js';
import type { Description, RowOf, RowPlace } from './describe.js';
import { type FoundColumn, findTableColumns } from './name-columns.js';
import { Notes } from './notes.js';
import { blankRow, type ReadColumn, readCells } from './read-cells.js';
import type { TableContext, TableDefinition } from './table-definition.js';
import { choiceOf, type TableSettings } from './table-settings.js';
import { TimeCells } from './time-cells.js';
import { planTimeColumn } from './time-column.js';

/** What a column of a table was taken for. */
export interface ColumnTaken {
  readonly header: string;
  readonly key: string;
  readonly unit: string | null;
  /** What decided, in plain words. */
  readonly why: string;
}

/** The rows of a table with their account. */
export interface TableRows<R> {
  readonly rows: readonly R[];
  /** Rows that were read and then set aside, since they contradict each other. */
  readonly contradicting: readonly R[];
  readonly rowsRead: number;
  /** Rows that nobody asks for; rows read = rows + these + rows set aside. */
  readonly passedOver: number;
  readonly setAside: readonly RowSetAside[];
  readonly columns: readonly ColumnTaken[];
  readonly leftAlone: readonly LeftAlone[];
  /** The decimal mark, where a number had one. */
  readonly decimal: '.' | ',' | null;
  /** What somebody should know of the reading, in plain words. */
  readonly warnings: readonly string[];
}

const TIME_OR_NUMBER = /\d{1,2}[:.]\d{2}|\d{5}/;

/** True where a line that is no row looks like words behind the table: one cell that holds text and no time. */
function isFooter(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell.trim() !== '');
  return filled.length === 1 && /\p{L}{2}/u.test(filled[0]) && !TIME_OR_NUMBER.test(filled[0]);
}

/**
 * Makes the rows of a table from its records.
 *
 * @param records all that stand behind the header
 * @throws Problem where the table as a whole cannot be used
 */
export function tableRows<D extends Description, R extends RowPlace>(
  file: string,
  layout: Layout,
  records: readonly CsvRecord[],
  definition: TableDefinition<D, R>,
  settings: TableSettings,
  clock: ZoneClock,
): TableRows<R> {
  const { headers, unitsRow, headerLine } = layout;
  const notes = new Notes();
  const aside: RowSetAside[] = [];
  const putAside = (line: number, { kind, what, fix }: CellFault): number =>
    aside.push({ file, line, rows: 1, kind, reason: what, fix: fix || undefined });
  const atHeader = <T>(work: () => T): T => {
    try {
      return work();
    } catch (error) {
      throw error instanceof Problem ? error.at({ line: error.where.line ?? headerLine }) : error;
    }
  };
  const { found, leftAlone } = atHeader(() => findTableColumns(headers, unitsRow, definition, settings));
  const main = found.find(({ key }) => key === definition.main) as FoundColumn;
  const even = evenRecords(records, layout, main, putAside);
  const numbers = new NumberReader();
  const isMissing = missingMarks(settings.missing);
  const columns = atHeader(() =>
    found.map((column): ReadColumn => {
      const choice = choiceOf(settings, column.key);
      const isTime = (text: string): boolean => !isMissing(text) && !isOtherThanTime(column.spec, text);
      const planned = holdsTimes(column)
        ? planTimeColumn(column, even, headers, unitsRow, settings, isTime)
        : null;
      const times = planned && new TimeCells(column, planned, clock, notes.add);
      const read = cellReader(column, { numbers, isMissing, choice, times });
      return { column, planned, read, textOf: planned?.textOf ?? ((cells) => cells[column.index].trim()) };
    }),
  );
  const byKey = new Map(columns.map((one) => [one.column.key, one]));
  const context: TableContext = {
    numbers,
    column: (key) => byKey.get(key)?.column,
    choice: (key) => choiceOf(settings, key),
    cells: (key) => {
      const one = byKey.get(key);
      const texts = one ? even.map(({ cells, line }) => ({ text: one.textOf(cells), line })) : [];
      return texts.filter(({ text }) => !isMissing(text));
    },
    note: notes.add,
  };
  const make = atHeader(() => definition.maker(context));
  const blank = blankRow(file, definition.columns);
  const seen = new Map<string, number>();
  const wanted = even.filter(({ cells }) => {
    const cell = (key: string): string | null => {
      const text = byKey.get(key)?.textOf(cells) ?? '';
      return isMissing(text) ? null : text;
    };
    return !definition.passesOver?.(cell);
  });
  const made = wanted.flatMap(({ cells, line }): R[] => {
    const text = cells.map((cell) => cell.trim()).join('\n');
    const before = definition.mayRepeat ? seen.get(text) : undefined;
    let row: R | CellFault;
    if (before !== undefined) {
      row = new CellFault(`the same as line ${before}, and nothing new`, '', 'repeat');
    } else {
      const values = atLine(line, () => readCells(columns, blank, cells, line));
      row = values instanceof CellFault ? values : atLine(line, () => make(values as RowOf<D>));
    }
    if (!(row instanceof CellFault)) {
      seen.set(text, line);
      return [row];
    }
    putAside(line, row);
    return [];
  });
  if (2 * badRowsIn(aside) > records.length) throw tooManyBad(sorted(aside), records.length);
  const contradictions = definition.across?.(made, clock, context);
  for (const [{ line }, fault] of contradictions ?? []) putAside(line, fault);
  const rows = contradictions ? made.filter((row) => !contradictions.has(row)) : made;
  if (records.length === 0) notes.add(headerLine, 'the table has a header and no rows');
  return {
    rows,
    contradicting: [...(contradictions?.keys() ?? [])],
    rowsRead: records.length,
    passedOver: even.length - wanted.length,
    setAside: sorted(aside),
    columns: columns.map(({ column, planned }) => ({
      header: column.header,
      key: column.key,
      unit: unitShown(column, choiceOf(settings, column.key)),
      why: planned ? `${column.why}, ${planned.plan.why}` : column.why,
    })),
    leftAlone: [...leftAlone, ...spareDates(columns, headers)],
    decimal: numbers.decimal?.mark ?? null,
    warnings: notes.sentences(),
  };
}

const sorted = (aside: readonly RowSetAside[]): RowSetAside[] => [...aside].sort((a, b) => a.line - b.line);

function atLine<T>(line: number, work: () => T): T {
  try {
    return work();
  } catch (error) {
    throw error instanceof Problem ? error.at({ line }) : error;
  }
}

const spareDates = (columns: readonly ReadColumn[], headers: readonly string[]): LeftAlone[] =>
  columns.flatMap(({ column: { date }, planned }) =>
    date !== null && planned?.sparesDate
      ? [{ header: headers[date], why: 'the times beside it hold the date already' }]
      : [],
  );

/** The records with as many cells as the header; others, and headers that stand again, are put aside. */
function evenRecords(
  records: readonly CsvRecord[],
  { headers, unitsRow }: Layout,
  main: FoundColumn,
  putAside: (line: number, fault: CellFault) => void,
): CsvRecord[] {
  const lastEven = records.findLast(({ cells }) => cells.length === headers.length)?.line ?? 0;
  return records.filter(({ cells, line }) => {
    const isHeader = cells[main.index]?.trim() === headers[main.index];
    if (isHeader && !sameCells(cells, headers)) throw headerAgain(line);
    if (isHeader || (unitsRow !== null && sameCells(cells, unitsRow))) {
      putAside(line, new CellFault('the header again', '', 'footer'));
      return false;
    }
    if (line > lastEven && isFooter(cells)) {
      putAside(line, new CellFault('a line behind the data', '', 'footer'));
      return false;
    }
    if (cells.length === headers.length) return true;
    const what = `${cells.length} cells where the header has ${headers.length}`;
    const fix =
      'Each row needs as many cells as the header; decimal commas or a delimiter at the end of the rows make more.';
    putAside(line, new CellFault(what, fix, 'cells'));
    return false;
  });
}
