import fc from 'fast-check';
import type { Cell } from '../../src/report/tables/csv.js';
import type { ColumnType, TidyColumn, TidyTable } from '../../src/report/tables/tidy-table.js';

const text = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 12 }),
  fc.constantFrom(
    '',
    ' ',
    ' a ',
    '007',
    '#7',
    '=1+1',
    "'",
    '"',
    'true',
    'NULL',
    'NaN',
    '-1',
    '1e5',
    'a\r\nb,c',
  ),
);
const CELLS: Readonly<Record<ColumnType, fc.Arbitrary<Cell>>> = {
  string: text,
  double: fc.double({ noNaN: true, noDefaultInfinity: true }),
  int: fc.maxSafeInteger(),
  boolean: fc.boolean(),
};
const ANY_CELL = fc.oneof(...Object.values(CELLS));

const names = fc.oneof(
  { weight: 3, arbitrary: fc.stringMatching(/^[a-z][A-Za-z0-9]{0,8}$/) },
  { weight: 1, arbitrary: fc.constantFrom('_x', 'a,b', 'MAP (mmHg)', 'größe', 'a_b', '50%', '"') },
);

interface RandomColumn {
  readonly column: TidyColumn;
  readonly cells: readonly Cell[];
}

const randomColumn = (name: string, rows: number): fc.Arbitrary<RandomColumn> =>
  fc.constantFrom<ColumnType | undefined>('string', 'double', 'int', 'boolean', undefined).chain((type) =>
    fc
      .record({
        unit: fc.constantFrom('', 'mm[Hg].h', '{episodes}/d'),
        says: fc.string({ maxLength: 8 }),
        cells: fc.array(
          fc.oneof(
            { weight: 1, arbitrary: fc.constantFrom<Cell>(null, undefined) },
            { weight: 4, arbitrary: type ? CELLS[type] : ANY_CELL },
          ),
          { minLength: rows, maxLength: rows },
        ),
      })
      .map(({ unit, says, cells }) => ({ column: { name, unit, says, ...(type ? { type } : {}) }, cells })),
  );

/** Tables of random cells, of all types and of none, with cells that are missing. */
export const randomTables: fc.Arbitrary<TidyTable> = fc
  .tuple(
    fc.uniqueArray(names, { minLength: 1, maxLength: 6, selector: (name) => name.toLowerCase() }),
    fc.integer({ min: 0, max: 8 }),
  )
  .chain(([of, rows]) => fc.tuple(fc.constant(rows), fc.tuple(...of.map((name) => randomColumn(name, rows)))))
  .map(([rows, columns]) => ({
    name: 'random',
    says: 'Random cells',
    columns: columns.map(({ column }) => column),
    rows: Array.from({ length: rows }, (_, i) =>
      Object.fromEntries(columns.map(({ column, cells }) => [column.name, cells[i]])),
    ),
  }));
