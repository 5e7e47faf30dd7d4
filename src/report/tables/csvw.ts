import { columnCells } from './column-cells.js';
import { describedColumn } from './described-column.js';
import type { ColumnType, TidyColumn, TidyTable } from './tidy-table.js';

/** Where readers look for the metadata of the CSV files of a folder, as the recommendation has it. */
export const CSVW_FILE = 'csv-metadata.json';

/** Datatypes of XML Schema, which the recommendation takes over. */
const DATATYPES: Readonly<Record<ColumnType, string>> = {
  string: 'string',
  double: 'double',
  int: 'integer',
  boolean: 'boolean',
};

/**
 * How `tidyCsv` writes, said in full: the two recommendations on tabular data do not agree on what holds where nothing is said
 * of `trim`. `#` may be the first character of a patient's number and is the comment prefix where none is given; `=` never
 * begins a row, since text that begins with it gets a quote in front.
 */
const DIALECT = {
  encoding: 'utf-8',
  lineTerminators: ['\r\n'],
  quoteChar: '"',
  doubleQuote: true,
  delimiter: ',',
  header: true,
  headerRowCount: 1,
  commentPrefix: '=',
  skipRows: 0,
  skipColumns: 0,
  skipBlankRows: false,
  skipInitialSpace: false,
  trim: false,
} as const;

/** A name as URI templates allow it (RFC 6570): letters, digits, `_` inside, and all else percent-encoded. */
const csvwName = (name: string): string =>
  [...new TextEncoder().encode(name)]
    .map((byte, i) => {
      const character = String.fromCharCode(byte);
      return /[A-Za-z0-9]/.test(character) || (character === '_' && i > 0)
        ? character
        : `%${byte.toString(16).toUpperCase().padStart(2, '0')}`;
    })
    .join('');

const columnOf = (column: TidyColumn, type: ColumnType, isKey: boolean): object => {
  const { title, unit, says, definition, source, samplingSeconds } = describedColumn(column, type);
  return {
    name: csvwName(column.name),
    titles: title === column.name ? [column.name] : [column.name, title],
    datatype: DATATYPES[type],
    null: '',
    ...(isKey ? { required: true } : {}),
    'dc:description': [says, definition].filter((text) => text !== '').join(' '),
    ...(unit === '' ? {} : { 'schema:unitText': unit }),
    ...(source === '' ? {} : { 'dc:source': source }),
    ...(samplingSeconds === null
      ? {}
      : { 'rdfs:comment': `Needs a sample every ${samplingSeconds} s or more often.` }),
  };
};

const tableOf = (table: TidyTable): object => ({
  url: `${encodeURIComponent(table.name)}.csv`,
  'dc:description': table.says,
  tableSchema: {
    columns: columnCells(table).map(({ column, type }) =>
      columnOf(column, type, table.key?.includes(column.name) ?? false),
    ),
    ...(table.key ? { primaryKey: table.key.map(csvwName) } : {}),
  },
});

/**
 * What `csv-metadata.json` beside the CSV files of tables holds, so that a reader knows the type, the unit and the meaning of
 * each column. Units are UCUM in `schema:unitText`; a blank cell is missing.
 *
 * Source: W3C Recommendation "Metadata Vocabulary for Tabular Data", 17 December 2015; `dc`, `rdfs` and `schema` are prefixes
 * of the initial context of RDFa, which it takes over.
 *
 * @throws Error where there is no table, and as `columnCells` does
 */
export function csvwOf(tables: readonly TidyTable[]): object {
  if (tables.length === 0) throw new Error('A folder without tables has no metadata');
  return {
    '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
    'dc:description':
      "Units are UCUM. A blank cell is missing. Text that a spreadsheet would run as a formula has a quote (') in front.",
    dialect: DIALECT,
    tables: tables.map(tableOf),
  };
}
