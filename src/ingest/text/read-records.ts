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

/** Takes lines of a file straight from its text where it can. */
export interface Lane {
  /** How many lines the last call took. */
  lines: number;
  /**
   * Takes whole lines from a place on.
   *
   * @param line number of the line that starts there
   * @returns the place of the first line that it leaves; the end of the text where it took all
   */
  take(text: string, from: number, line: number): number;
}

/** Decides from the first lines how a file is cut into cells, and who takes its records. */
export type Start = (head: string) => {
  readonly delimiter: Delimiter;
  readonly visit: RecordVisitor;
  readonly lane?: Lane | null;
};

/** A block in which more lines than this stop the lane is faster read as a whole. */
const MOST_STOPS = 100;

const countLines = (text: string): number => text.split('\n').length - 1;

/** Hands blocks of whole records to the parser. */
class BlockParser {
  private delimiter: Delimiter | null = null;
  private visit: RecordVisitor = () => true;
  private lane: Lane | null = null;
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
      const taken = this.take(this.pending.slice(0, end), isLast);
      if (taken === null) return false;
      this.pending = this.pending.slice(taken);
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
    const { delimiter, visit, lane = null } = this.start(head);
    this.lane = lane;
    this.delimiter = delimiter;
    this.visit = visit;
  }

  /** Lines that the lane takes, and one by one those that stop it, for as long as these are few. */
  private takePlain(block: string, delimiter: Delimiter): number | null {
    const { lane } = this;
    let at = 0;
    for (let stops = 0; lane !== null && at < block.length && stops < MOST_STOPS; stops++) {
      at = lane.take(block, at, this.line);
      this.line += lane.lines;
      const end = block.indexOf('\n', at) + 1;
      // A quote may hold line breaks: the library has to see all of it.
      if (end === 0 || block.slice(at, end).includes('"')) return at;
      const { records, nextLine, fault } = parseRecords(block.slice(at, end), delimiter, this.line);
      if (fault) return at;
      for (const record of records) if (!this.visit(record)) return null;
      this.line = nextLine;
      at = end;
    }
    return at;
  }

  /** How much of the block was taken: not all where it ends inside quotes and more may come. Null where enough was seen. */
  private take(block: string, isLast: boolean): number | null {
    if (this.delimiter === null) return 0;
    const plain = this.takePlain(block, this.delimiter);
    if (plain === null || plain === block.length) return plain;
    const rest = block.slice(plain);
    const { records, nextLine, fault, isUnclosed } = parseRecords(rest, this.delimiter, this.line);
    if (isUnclosed && !isLast) return plain;
    for (const record of records) if (!this.visit(record)) return null;
    if (fault) {
      if (!this.takeBroken(rest, nextLine, isUnclosed, fault)) return null;
    } else this.line = nextLine;
    return block.length;
  }

  /** A last line that breaks off inside quotes is one bad row; any other fault in the quotes ends the reading. */
  private takeBroken(block: string, line: number, isUnclosed: boolean, fault: Problem): boolean {
    const rest = block.split('\n').slice(line - this.line);
    if (!isUnclosed || rest.length > 1) throw fault;
    return this.visit({ cells: rest, line });
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
