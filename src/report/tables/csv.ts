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

/** Rows as RFC 4180 CSV: a header, CRLF, quotes where needed. Missing cells are blank, numbers unrounded. */
export function toCsv(header: readonly string[], rows: readonly (readonly Cell[])[]): string {
  const cells = rows.map((row) =>
    row.map((cell) =>
      typeof cell === 'string' ? safeText(cell) : cell === null || cell === undefined ? '' : String(cell),
    ),
  );
  const text = Papa.unparse([[...header], ...cells], { newline: '\r\n' });
  return `${text}\r\n`;
}
