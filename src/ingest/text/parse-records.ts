import Papa from 'papaparse';
import { Problem } from '../../recording/problem.js';

/** A cell separator that exports use. */
export type Delimiter = ',' | ';' | '\t' | '|';
export const DELIMITERS: readonly Delimiter[] = [',', ';', '\t', '|'];

/** One record of a CSV file and the line (from 1) on which it starts. */
export interface CsvRecord {
  readonly cells: readonly string[];
  readonly line: number;
}

/** What a block of text holds. */
export interface ParsedBlock {
  /** Records with text in them; those after a fault are left out. */
  readonly records: CsvRecord[];
  /** The line that follows the last record. */
  readonly nextLine: number;
  /** The first fault in the quotes. */
  readonly fault: Problem | null;
  /** True where the fault is a quote that the block does not close: more text may. */
  readonly isUnclosed: boolean;
}

const newlinesIn = (text: string): number => {
  let count = 0;
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) count++;
  return count;
};

/**
 * Parses text of whole records, line breaks all `\n`, with papaparse, and counts the lines, which papaparse does not.
 *
 * @param mostRecords stop after so many; 0 for all
 */
export function parseRecords(
  text: string,
  delimiter: Delimiter,
  firstLine: number,
  mostRecords = 0,
): ParsedBlock {
  const { data, errors } = Papa.parse<string[]>(text, { delimiter, newline: '\n', preview: mostRecords });
  const misquoted = errors.find(({ type }) => type === 'Quotes');
  const isUnclosed = misquoted?.code === 'MissingQuotes';
  const mayBreakInside = text.includes('"');
  // The text behind the last line break is no record, but papaparse returns it as an empty one.
  if (!misquoted && text.endsWith('\n') && data.at(-1)?.join('') === '') data.pop();
  const records: CsvRecord[] = [];
  let line = firstLine;
  for (const [i, cells] of data.entries()) {
    if (i === misquoted?.row) {
      const fault = new Problem(
        isUnclosed ? 'a quote is opened and never closed' : 'text follows a closing quote',
        'Correct the quotes in this row, or export the file again.',
        { line },
      );
      return { records, nextLine: line, fault, isUnclosed };
    }
    if (cells.some((cell) => cell.trim() !== '')) records.push({ cells, line });
    line++;
    if (mayBreakInside) for (const cell of cells) line += newlinesIn(cell);
  }
  return { records, nextLine: line, fault: null, isUnclosed: false };
}
