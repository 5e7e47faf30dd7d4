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

/** Takes lines of a file straight from its bytes where it can. */
export interface Lane {
  /** How many lines the last call took. */
  lines: number;
  /**
   * Takes whole lines from a place on.
   *
   * @param bytes the characters of the text, of which none needs more than one; behind the end stands no digit of the last
   * @param line number of the line that starts there
   * @returns the place of the first line that it leaves; `end` where it took all
   */
  take(bytes: Buffer, from: number, end: number, line: number): number;
}

/** Decides from the first lines how a file is cut into cells, and who takes its records. */
export type Start = (head: string) => {
  readonly delimiter: Delimiter;
  readonly visit: RecordVisitor;
  readonly lane?: Lane | null;
};

/** A block in which more lines than this stop the lane is faster read as a whole. */
const MOST_STOPS = 100;

const NEWLINE = 10;
// biome-ignore lint/suspicious/noControlCharactersInRegex: all of ASCII
const ASCII = /^[\u0000-\u007f]*$/;
const BEYOND_LATIN1 = /[\u0100-\uffff]/;
/** A line that is longer is waited for as text. */
const MOST_PENDING = 1 << 16;

/** Room for the bytes at hand, used again and again. */
class WorkingBytes {
  private store = Buffer.alloc(0);

  /** Of this size, with a zero behind the end. */
  sized(length: number): Buffer {
    if (this.store.length <= length) this.store = Buffer.alloc(2 * length + 1);
    this.store[length] = 0;
    return this.store;
  }
}

const countLines = (text: string): number => text.split('\n').length - 1;

/** Hands blocks of whole records to the parser. */
class BlockParser {
  private delimiter: Delimiter | null = null;
  private visit: RecordVisitor = () => true;
  private lane: Lane | null = null;
  private line = 1;
  private pending = '';
  private readonly breaks = new LineBreaks();
  private readonly bytes = new WorkingBytes();

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

  /**
   * Takes bytes that are plain text as they are.
   *
   * @returns null where they have to become text first; false where the visitor has seen enough
   */
  pushPlain(chunk: Uint8Array): boolean | null {
    const { lane, delimiter, pending } = this;
    const isPlain =
      lane !== null && delimiter !== null && pending.length < MOST_PENDING && ASCII.test(pending);
    if (!isPlain || !this.breaks.isPlain(chunk) || chunk.indexOf(0) >= 0) return null;
    const length = pending.length + chunk.length;
    const bytes = this.bytes.sized(length);
    bytes.write(pending, 'latin1');
    bytes.set(chunk, pending.length);
    const end = bytes.lastIndexOf(NEWLINE, length - 1) + 1;
    const taken = this.takeByLane(lane, bytes, end, delimiter);
    if (taken === null) return false;
    this.pending = bytes.toString('latin1', taken, length);
    // What the lane left goes the long way, and so does a line that does not end.
    return this.pending.length < MOST_PENDING && taken === end ? true : this.push('');
  }

  /** Lines that the lane takes, and one by one those that stop it, for as long as these are few. */
  private takeByLane(lane: Lane, bytes: Buffer, end: number, delimiter: Delimiter): number | null {
    let at = 0;
    for (let stops = 0; at < end && stops < MOST_STOPS; stops++) {
      at = lane.take(bytes, at, end, this.line);
      this.line += lane.lines;
      const next = bytes.subarray(0, end).indexOf(NEWLINE, at) + 1;
      // A quote may hold line breaks: the library has to see all of it.
      const line = bytes.toString('latin1', at, next);
      if (next === 0 || line.includes('"')) return at;
      const { records, nextLine, fault } = parseRecords(line, delimiter, this.line);
      if (fault) return at;
      for (const record of records) if (!this.visit(record)) return null;
      this.line = nextLine;
      at = next;
    }
    return at;
  }

  /** The same of text. */
  private takePlain(block: string, delimiter: Delimiter): number | null {
    const { lane } = this;
    if (lane === null || BEYOND_LATIN1.test(block)) return 0;
    const bytes = this.bytes.sized(block.length);
    bytes.write(block, 'latin1');
    return this.takeByLane(lane, bytes, block.length, delimiter);
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
  const identity = await readBytes(open, (chunk) => {
    const isTaken = decoding.isPlain(chunk) ? parser.pushPlain(chunk) : null;
    return isTaken ?? parser.push(decoding.push(chunk));
  });
  if (!identity || !parser.push(decoding.end(), true)) return null;
  return { ...identity, encoding: decoding.encoding };
}
