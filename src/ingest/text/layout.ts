import { Problem } from '../../recording/problem.js';
import { unitNamed } from '../columns/units.js';
import { type CsvRecord, DELIMITERS, type Delimiter, parseRecords } from './parse-records.js';

/** How a file is laid out, as its first lines show. */
export interface Layout {
  readonly delimiter: Delimiter;
  /** Names of the columns, trimmed. */
  readonly headers: readonly string[];
  readonly headerLine: number;
  /** The cells of a row of units under the header. */
  readonly unitsRow: readonly string[] | null;
  /** The first line that may hold a row of data. */
  readonly dataLine: number;
  /** Records above the header. */
  readonly preamble: readonly CsvRecord[];
  /** Rows of data among the first lines. */
  readonly samples: readonly CsvRecord[];
}

/** A header without characters that nobody sees. */
const visible = (cell: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what has to go
  cell.replace(/[\u0000-\u0008\u000e-\u001f\u007f\u200b-\u200f\u2060\ufeff]/g, '').trim();

/** A row without the blank cells that delimiters at the end of its line, or of the header's, make. */
export function fitted(cells: readonly string[], headers: readonly string[]): readonly string[] {
  if (cells.length === headers.length) return cells;
  const [longer, width] = cells.length > headers.length ? [cells, headers.length] : [headers, cells.length];
  if (!longer.slice(width).every((cell) => cell.trim() === '')) return cells;
  return longer === cells ? cells.slice(0, width) : [...cells, ...longer.slice(width)];
}

/** How well a row of cells fits as the header; 100 and more where it must be one. */
export type HeaderScore = (cells: readonly string[]) => number;

/** A score from which on a row must be the header. */
export const CERTAIN = 100;
const MOST_COLUMNS = 100_000;
/** A header is looked for among so many records. */
const MOST_PREAMBLE = 100;
const SAMPLE_RECORDS = 400;

/** A first line such as `sep=;`, which some spreadsheets write. */
const SEPARATOR_LINE = /^(?:\ufeff)?"?sep=(.)"?$/i;

interface Candidate {
  readonly delimiter: Delimiter;
  readonly records: readonly CsvRecord[];
  readonly headerAt: number;
  readonly score: number;
  /** What is wrong with the quotes before all records were had. */
  readonly fault: Problem | null;
  /** Records behind the header that have as many cells. */
  readonly even: number;
}

function candidate(head: string, firstLine: number, delimiter: Delimiter, score: HeaderScore): Candidate {
  const { records, fault } = parseRecords(head, delimiter, firstLine, SAMPLE_RECORDS);
  let headerAt = 0;
  let best = 0;
  for (let i = 0; i < Math.min(records.length, MOST_PREAMBLE); i++) {
    const { cells } = records[i];
    const fit = cells.length > MOST_COLUMNS ? 0 : score(cells);
    if (fit > best) {
      best = fit;
      headerAt = i;
    }
    // The first row that must be a header is one: further down the same words are data.
    if (fit >= CERTAIN) break;
  }
  const width = records[headerAt]?.cells.length ?? 0;
  const even = records.filter(({ cells }, i) => i > headerAt && width > 1 && cells.length === width).length;
  return { delimiter, records, headerAt, score: best, fault, even };
}

const isBetter = (a: Candidate, b: Candidate): boolean =>
  a.score !== b.score ? a.score > b.score : a.even > b.even;

/** A row under the header that holds units, and neither a number nor a date. */
export function isUnitsRow(record: CsvRecord | undefined, headers: readonly string[]): boolean {
  if (!record || record.cells.length !== headers.length) return false;
  const texts = record.cells.map((cell) => cell.trim().replace(/^[([](.*)[)\]]$/, '$1'));
  const hasUnit = texts.some((text) => unitNamed(text) !== null && !/^\d/.test(text));
  return (
    hasUnit &&
    !texts.some((text) => /^[+-]?\d+(?:[.,]\d+)?$|^\d{1,4}[-/.]\d{1,2}[-/.]\d|^\d{1,2}:\d\d/.test(text))
  );
}

/** A unit without the brackets around it. */
export const withoutBrackets = (cell: string): string => cell.trim().replace(/^[([]((?!.*\[).*)[)\]]$/, '$1');

/**
 * Finds delimiter, header, units and preamble in the first lines of a file: of all delimiters and rows the one whose
 * cells read most like a header.
 *
 * @throws Problem where the first record has more columns than any export, or a quote hides the header
 */
export function findLayout(head: string, score: HeaderScore): Layout {
  const [firstLine] = head.split('\n', 1);
  const separator = SEPARATOR_LINE.exec(firstLine.trim())?.[1];
  const body = separator === undefined ? head : head.slice(firstLine.length + 1);
  const line = separator === undefined ? 1 : 2;
  const said = DELIMITERS.filter((delimiter) => delimiter === separator);
  const candidates = (said.length > 0 ? said : DELIMITERS).map((delimiter) =>
    candidate(body, line, delimiter, score),
  );
  const {
    delimiter,
    records,
    headerAt,
    score: fit,
    fault,
  } = candidates.reduce((a, b) => (isBetter(b, a) ? b : a));
  if (fault && fit < CERTAIN) throw fault;
  const header = records[headerAt];
  const headers = (header?.cells ?? []).map(visible);
  if (headers.length > MOST_COLUMNS) {
    throw new Problem(
      `the row has ${headers.length} cells`,
      `An export has ${MOST_COLUMNS} columns at most; look for missing line breaks.`,
      { line: header?.line },
    );
  }
  const next = records[headerAt + 1];
  const hasUnits = isUnitsRow(next, headers);
  return {
    delimiter,
    headers,
    headerLine: header?.line ?? line,
    unitsRow: hasUnits ? next.cells.map(withoutBrackets) : null,
    dataLine: (hasUnits ? next.line : (header?.line ?? line)) + 1,
    preamble: records.slice(0, headerAt),
    samples: records.slice(headerAt + (hasUnits ? 2 : 1)),
  };
}
