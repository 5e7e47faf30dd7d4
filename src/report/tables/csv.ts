import Papa from 'papaparse';

/** A cell as it is known before writing. */
export type Cell = string | number | boolean | null | undefined;

const FORMULA_START = /^[=+\-@\t\r]/;
const PLAIN_NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/**
 * Text that a spreadsheet would run as a formula gets a quote in front; a plain number never does.
 * Source: OWASP, CSV injection.
 */
export const safeText = (text: string): string =>
  FORMULA_START.test(text) && !PLAIN_NUMBER.test(text) ? `'${text}` : text;

/** Rows as RFC 4180 CSV without a header: CRLF, quotes where needed. Missing cells are blank, numbers unrounded. */
export function csvRows(rows: readonly (readonly Cell[])[]): string {
  if (rows.length === 0) return '';
  const cells = rows.map((row) =>
    row.map((cell) =>
      typeof cell === 'string' ? safeText(cell) : cell === null || cell === undefined ? '' : String(cell),
    ),
  );
  return `${Papa.unparse(cells, { newline: '\r\n' })}\r\n`;
}

/** The same behind a header. */
export const toCsv = (header: readonly string[], rows: readonly (readonly Cell[])[]): string =>
  `${Papa.unparse([[...header]], { newline: '\r\n' })}\r\n${csvRows(rows)}`;
