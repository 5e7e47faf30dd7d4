import { TextDecoding } from './decode.js';
import { LineBreaks } from './line-breaks.js';
import type { Delimiter } from './parse-records.js';
import { type ByteSource, readBytes } from './read-bytes.js';

/** A row longer than this is shown cut. */
const LONGEST_ROW = 2_000;

/** True where a cell begins with a quote that the text does not close; a quote inside a cell opens nothing. */
function isOpen(text: string, delimiter: Delimiter): boolean {
  let inQuotes = false;
  let atCellStart = true;
  for (let i = 0; i < text.length; i++) {
    const character = text[i];
    if (inQuotes) {
      if (character !== '"') continue;
      if (text[i + 1] === '"') i++;
      else inQuotes = false;
    } else {
      inQuotes = character === '"' && atCellStart;
      atCellStart = character === delimiter;
    }
  }
  return inQuotes;
}

/** Picks lines out of text that comes in pieces; a line that ends inside quotes takes the next ones with it. */
class LinePicker {
  readonly found = new Map<number, string>();
  private readonly last: number;
  private line = 1;
  /** The row that is being put together. */
  private row: { readonly line: number; text: string } | null = null;

  constructor(
    private readonly lines: ReadonlySet<number>,
    private readonly delimiter: Delimiter,
  ) {
    this.last = [...lines].reduce((a, b) => Math.max(a, b), 0);
  }

  /** Takes the next line; false once all are found. */
  take(text: string): boolean {
    if (this.row) this.row.text += `\n${text}`;
    else if (this.lines.has(this.line)) this.row = { line: this.line, text };
    if (this.row && (!isOpen(this.row.text, this.delimiter) || this.row.text.length > LONGEST_ROW))
      this.close();
    this.line++;
    return this.line <= this.last || this.row !== null;
  }

  /** The row so far, where the file ends in it. */
  close(): void {
    if (!this.row) return;
    const { line, text } = this.row;
    this.found.set(line, text.length > LONGEST_ROW ? `${text.slice(0, LONGEST_ROW)}...` : text);
    this.row = null;
  }
}

/**
 * Reads rows of a file as they came.
 *
 * @param lines the lines on which they start, from 1
 * @returns by line; a row that cannot be had any more is left out
 */
export async function fetchRows(
  open: ByteSource,
  lines: ReadonlySet<number>,
  delimiter: Delimiter,
): Promise<Map<number, string>> {
  const decoding = new TextDecoding();
  const picker = new LinePicker(lines, delimiter);
  const breaks = new LineBreaks();
  let pending = '';
  const push = (text: string, isLast: boolean): boolean => {
    pending += breaks.unify(text, isLast);
    const parts = pending.split('\n');
    pending = isLast ? '' : (parts.pop() ?? '');
    return parts.every((part) => picker.take(part));
  };
  try {
    if (await readBytes(open, (chunk) => push(decoding.push(chunk), false))) push(decoding.end(), true);
  } catch {
    // The file broke off further down, which is told elsewhere; the rows up to there are had.
  }
  picker.close();
  return picker.found;
}
