import { Problem } from '../../recording/problem.js';
import { type Encoding, TextDecoding } from './decode.js';
import { LineBreaks } from './line-breaks.js';
import { type CsvRecord, type Delimiter, parseRecords } from './parse-records.js';
import { type ByteSource, type FileIdentity, readBytes } from './read-bytes.js';

/** Longest record in characters; beyond it papaparse grows quadratic, and no monitor writes such a row. */
const MAX_RECORD_CHARACTERS = 1_000_000;
/** So much text decides how a file is laid out. */
const HEAD_CHARACTERS = 1 << 16;

/** What came of reading a file's text. */
export interface TextIdentity extends FileIdentity {
  readonly encoding: Encoding;
}

/** Called for each record; false ends the reading early. */
export type RecordVisitor = (record: CsvRecord) => boolean;

/** Decides from the first lines how a file is cut into cells, and who takes its records. */
export type Start = (head: string) => { readonly delimiter: Delimiter; readonly visit: RecordVisitor };

const countLines = (text: string): number => text.split('\n').length - 1;

/** Hands blocks of whole records to the parser. */
class BlockParser {
  private delimiter: Delimiter | null = null;
  private visit: RecordVisitor = () => true;
  private line = 1;
  private pending = '';
  private readonly breaks = new LineBreaks();

  constructor(private readonly start: Start) {}

  /** Takes more text; false where the visitor has seen enough. */
  push(raw: string, isLast = false): boolean {
    const text = this.breaks.unify(raw, isLast);
    const nul = text.indexOf('\u0000');
    if (nul >= 0) {
      const line = this.line + countLines(this.pending) + countLines(text.slice(0, nul));
      throw new Problem(
        'the file holds NUL characters, so it is no plain-text CSV',
        'Export it again as CSV.',
        { line },
      );
    }
    this.pending += text;
    if (this.delimiter === null) {
      if (!isLast && this.pending.length < HEAD_CHARACTERS) return true;
      this.settle(isLast);
    }
    const end = isLast ? this.pending.length : this.pending.lastIndexOf('\n') + 1;
    if (end > 0) {
      const goesOn = this.take(this.pending.slice(0, end), isLast);
      if (goesOn === null) return false;
      if (goesOn) this.pending = this.pending.slice(end);
    }
    if (this.pending.length <= MAX_RECORD_CHARACTERS) return true;
    // Whole lines that were not taken stand behind a quote: say where it is.
    if (end > 0) this.take(this.pending, true);
    throw new Problem(
      'a record is longer than 1 MB',
      'Look for a quote that is never closed, or for missing line breaks.',
      { line: this.line },
    );
  }

  /** The head is the same whatever the chunks in which the file came. */
  private settle(isLast: boolean): void {
    const isWhole = this.pending.length <= HEAD_CHARACTERS;
    const lastBreak = this.pending.lastIndexOf('\n', HEAD_CHARACTERS - 1);
    // A first line longer than that is waited for, up to the longest record.
    const end = (lastBreak >= 0 ? lastBreak : this.pending.indexOf('\n')) + 1;
    if (end === 0 && !isLast) return;
    const head = isWhole || end === 0 ? this.pending : this.pending.slice(0, end);
    const { delimiter, visit } = this.start(head);
    this.delimiter = delimiter;
    this.visit = visit;
  }

  /** True where the block was taken, false where it ends inside quotes and more may come, null where enough was seen. */
  private take(block: string, isLast: boolean): boolean | null {
    if (this.delimiter === null) return false;
    const { records, nextLine, fault, isUnclosed } = parseRecords(block, this.delimiter, this.line);
    if (isUnclosed && !isLast) return false;
    for (const record of records) if (!this.visit(record)) return null;
    if (fault) return this.takeBroken(block, nextLine, isUnclosed, fault);
    this.line = nextLine;
    return true;
  }

  /** A last line that breaks off inside quotes is one bad row; any other fault in the quotes ends the reading. */
  private takeBroken(block: string, line: number, isUnclosed: boolean, fault: Problem): true | null {
    const rest = block.split('\n').slice(line - this.line);
    if (!isUnclosed || rest.length > 1) throw fault;
    return this.visit({ cells: rest, line }) ? true : null;
  }
}

/**
 * Streams the records of a CSV file, plain or gzip, in any encoding of `Encoding`; lines without text are left out.
 *
 * @returns null where the visitor ended the reading early
 * @throws Problem where the file cannot be read, is cut off, or is no text; whatever `start` and the visitor throw
 *   passes through
 */
export async function readRecords(open: ByteSource, start: Start): Promise<TextIdentity | null> {
  const decoding = new TextDecoding();
  const parser = new BlockParser(start);
  const identity = await readBytes(open, (chunk) => parser.push(decoding.push(chunk)));
  if (!identity || !parser.push(decoding.end(), true)) return null;
  return { ...identity, encoding: decoding.encoding };
}
