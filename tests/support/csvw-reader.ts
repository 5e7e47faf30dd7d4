/**
 * A reader of CSV by its CSVW metadata, which shares nothing with the writer. Source: W3C Recommendations "Model for Tabular Data
 * and Metadata on the Web" (sections 6.4 and 8) and "Metadata Vocabulary for Tabular Data", 17 December 2015; the forms of
 * numbers and booleans are those of XML Schema Definition Language 1.1, part 2.
 */
export interface CsvwColumn {
  readonly name: string;
  readonly titles: readonly string[];
  readonly datatype: string;
  readonly null: string;
  readonly required?: boolean;
  readonly [common: string]: unknown;
}

export interface CsvwTable {
  readonly url: string;
  readonly tableSchema: { readonly columns: readonly CsvwColumn[]; readonly primaryKey?: readonly string[] };
}

export interface Csvw {
  readonly '@context': unknown;
  readonly dialect: Readonly<Record<string, unknown>>;
  readonly tables: readonly CsvwTable[];
}

export type CsvwCell = string | number | boolean | null;

/** Records of cells by the dialect, comments and all: nothing is trimmed, and blank rows are rows. */
function recordsOf(text: string, { quoteChar, delimiter, lineTerminators, commentPrefix }: Csvw['dialect']) {
  const ends = lineTerminators as string[];
  const records: string[][] = [];
  let at = 0;
  while (at < text.length) {
    const isComment = text.startsWith(String(commentPrefix), at);
    const record: string[] = [];
    for (let isOpen = true; isOpen; ) {
      let cell = '';
      if (text[at] === quoteChar) {
        for (at++; ; at++) {
          if (at >= text.length) throw new Error('a quote is never closed');
          if (text[at] !== quoteChar) cell += text[at];
          else if (text[at + 1] === quoteChar) cell += text[at++];
          else break;
        }
        at++;
      }
      const end = () => ends.find((one) => text.startsWith(one, at));
      while (at < text.length && text[at] !== delimiter && end() === undefined) cell += text[at++];
      record.push(cell);
      if (text[at] === delimiter) at++;
      else {
        at += end()?.length ?? 0;
        isOpen = false;
      }
    }
    if (!isComment) records.push(record);
  }
  return records;
}

const DOUBLE = /^[+-]?(\d+(\.\d*)?|\.\d+)([Ee][+-]?\d+)?$/;

function cellOf(text: string, column: CsvwColumn): CsvwCell {
  if (text === column.null) {
    if (column.required) throw new Error(`${column.name} is required`);
    return null;
  }
  const wrong = () => new Error(`${column.name}: "${text}" is no ${column.datatype}`);
  switch (column.datatype) {
    case 'string':
      return text;
    case 'double':
      if (!DOUBLE.test(text)) throw wrong();
      return Number(text);
    case 'integer':
      if (!/^[+-]?\d+$/.test(text)) throw wrong();
      return Number(text);
    case 'boolean':
      if (!/^(true|false|1|0)$/.test(text)) throw wrong();
      return text === 'true' || text === '1';
    default:
      throw new Error(`this reader knows no ${column.datatype}`);
  }
}

/**
 * The rows of a table's CSV, each cell of the type that the metadata give it.
 *
 * @throws Error where the file is not as the metadata say: header, number of cells, types, required cells, primary key
 */
export function readByCsvw(metadata: Csvw, url: string, csv: string): CsvwCell[][] {
  const table = metadata.tables.find((one) => one.url === url);
  if (!table) throw new Error(`no table ${url}`);
  const { columns, primaryKey } = table.tableSchema;
  const [header, ...records] = recordsOf(csv, metadata.dialect);
  if (header.length !== columns.length) throw new Error('the header has another number of columns');
  columns.forEach(({ titles }, i) => {
    if (!titles.includes(header[i])) throw new Error(`"${header[i]}" is no title of column ${i + 1}`);
  });
  const rows = records.map((record) => {
    if (record.length !== columns.length) throw new Error(`a row has ${record.length} cells`);
    return record.map((text, i) => cellOf(text, columns[i]));
  });
  if (primaryKey) {
    const at = primaryKey.map((name) => columns.findIndex((column) => column.name === name));
    const keys = new Set(rows.map((row) => JSON.stringify(at.map((i) => row[i]))));
    if (keys.size < rows.length) throw new Error('two rows have one key');
  }
  return rows;
}
