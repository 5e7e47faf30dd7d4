import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import type { Readable } from 'node:stream';
import { StringDecoder } from 'node:string_decoder';
import { createGunzip } from 'node:zlib';
import Papa from 'papaparse';
import { Problem } from '../recording/problem.js';

/** Longest record in characters; beyond it papaparse grows quadratic, and no monitor writes such a row. */
const MAX_RECORD_CHARACTERS = 1_000_000;
const CHUNK_BYTES = 1 << 18;

/** Identity of a file that was read. */
export interface FileIdentity {
  readonly bytes: number;
  readonly sha256: string;
}

/** Called for each record with its cells and the line (from 1) on which it starts. */
export type RecordVisitor = (cells: readonly string[], line: number) => void;

async function isGzip(path: string): Promise<boolean> {
  const file = await open(path);
  try {
    const { bytesRead, buffer } = await file.read(Buffer.alloc(2), 0, 2, 0);
    return bytesRead === 2 && buffer[0] === 0x1f && buffer[1] === 0x8b;
  } finally {
    await file.close();
  }
}

const newlinesIn = (text: string): number => {
  let count = 0;
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) count++;
  return count;
};

/** Every line break as \n: papaparse takes one kind a block, and a file may mix them. */
function oneLineBreak(text: string): string {
  if (!text.includes('\r')) return text;
  return text.includes('\n') ? text.replace(/\r+\n/g, '\n') : text.replaceAll('\r', '\n');
}

/** The delimiter of the first records; blank lines, and the one behind the last line break, say nothing of it. */
const guessDelimiter = (text: string): string =>
  Papa.parse<string[]>(text, {
    delimitersToGuess: [',', ';', '\t', '|'],
    newline: '\n',
    preview: 10,
    skipEmptyLines: 'greedy',
  }).meta.delimiter;

const NO_TEXT = [
  ['\u0000', 'the file holds NUL characters, so it is no plain-text CSV'],
  ['\ufffd', 'the file holds characters that are not UTF-8'],
] as const;

/** Hands blocks of whole records to papaparse and counts lines, which papaparse does not. */
class BlockParser {
  private delimiter = '';
  private line = 1;
  private pending = '';

  constructor(private readonly visit: RecordVisitor) {}

  push(text: string): void {
    for (const [character, what] of NO_TEXT) {
      const at = text.indexOf(character);
      if (at < 0) continue;
      const line = this.line + newlinesIn(this.pending) + newlinesIn(text.slice(0, at));
      throw new Problem(what, 'Export it again as CSV in UTF-8.', { line });
    }
    this.pending += text;
    const end = this.pending.lastIndexOf('\n') + 1;
    if (end > 0 && this.parse(this.pending.slice(0, end), false)) this.pending = this.pending.slice(end);
    if (this.pending.length <= MAX_RECORD_CHARACTERS) return;
    // Whole lines that were not taken stand behind a quote: say where it is.
    if (end > 0) this.parse(this.pending, true);
    throw new Problem(
      'a record is longer than 1 MB',
      'Look for a quote that is never closed, or for missing line breaks.',
      { line: this.line },
    );
  }

  finish(): void {
    this.parse(this.pending, true);
    this.pending = '';
  }

  /** Visits the records of a block; false, and nothing is visited, where it ends inside quotes and more may come. */
  private parse(block: string, isLast: boolean): boolean {
    if (block === '') return true;
    const text = oneLineBreak(block);
    const delimiter = this.delimiter || guessDelimiter(text);
    const { data, errors } = Papa.parse<string[]>(text, { delimiter, newline: '\n' });
    const misquoted = errors.find(({ type }) => type === 'Quotes');
    const unclosed = misquoted?.code === 'MissingQuotes';
    if (unclosed && !isLast) return false;
    this.delimiter = delimiter;
    const mayBreakInside = text.includes('"');
    // The text behind the last line break is no record, but papaparse returns it as an empty one.
    if (!misquoted && text.endsWith('\n')) data.pop();
    for (const [i, cells] of data.entries()) {
      if (i === misquoted?.row) {
        throw new Problem(
          unclosed ? 'a quote is opened and never closed' : 'text follows a closing quote',
          'Correct the quotes in this row, or export the file again.',
          { line: this.line },
        );
      }
      if (cells.some((cell) => cell.trim() !== '')) this.visit(cells, this.line);
      this.line++;
      if (mayBreakInside) for (const cell of cells) this.line += newlinesIn(cell);
    }
    return true;
  }
}

/**
 * Streams the records of a CSV file, plain or gzip (told by its first bytes), lines without any text left out.
 *
 * @throws Problem where the file cannot be read, is cut off, or is no text; whatever `visit` throws passes through
 */
export async function readRecords(path: string, visit: RecordVisitor): Promise<FileIdentity> {
  const parser = new BlockParser(visit);
  const hash = createHash('sha256');
  let bytes = 0;
  try {
    // Before the stream is made: an error of a stream that nobody listens to yet would end the process.
    const packed = await isGzip(path);
    const file = createReadStream(path, { highWaterMark: CHUNK_BYTES });
    let content: Readable = file;
    if (packed) {
      const gunzip = createGunzip({ chunkSize: CHUNK_BYTES });
      file.once('error', (error) => gunzip.destroy(error));
      content = file.pipe(gunzip);
    }
    file.on('data', (chunk) => {
      bytes += chunk.length;
      hash.update(chunk);
    });
    // Not setEncoding: on a plain file it would change what is counted and hashed here.
    const decoder = new StringDecoder('utf8');
    try {
      let first = true;
      for await (const chunk of content) {
        const text = decoder.write(chunk as Buffer);
        parser.push(first ? text.replace(/^\ufeff/, '') : text);
        first = false;
      }
      parser.push(decoder.end());
      // Zeros that pad a gzip file end the unpacking early; they are still part of the file.
      file.unpipe();
      for await (const _ of file);
    } finally {
      file.destroy();
    }
  } catch (error) {
    throw fileProblem(error);
  }
  parser.finish();
  return { bytes, sha256: hash.digest('hex') };
}

function fileProblem(error: unknown): unknown {
  const { code, syscall } = error as NodeJS.ErrnoException;
  if (code?.startsWith('Z_')) {
    return new Problem('the gzip data are damaged or cut off', 'Export the file again or copy it again.');
  }
  if (code === 'ENOENT') return new Problem('there is no such file', 'Look at its name and folder.');
  // The system's own words hold the path of the file on this machine.
  if (syscall !== undefined) {
    return new Problem(`the file cannot be read (${code})`, 'Look at its permissions, or copy it again.');
  }
  return error;
}
