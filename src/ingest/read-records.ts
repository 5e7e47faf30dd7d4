import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { open } from 'node:fs/promises';
import type { Readable } from 'node:stream';
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

const quotesIn = (text: string): number => {
  let count = 0;
  for (let i = text.indexOf('"'); i >= 0; i = text.indexOf('"', i + 1)) count++;
  return count;
};

/** Hands blocks of whole records to papaparse and counts lines, which papaparse does not. */
class BlockParser {
  private delimiter = '';
  private line = 1;
  private pending = '';

  constructor(private readonly visit: RecordVisitor) {}

  push(text: string): void {
    if (text.includes('\u0000')) {
      throw new Problem(
        'the file holds NUL characters, so it is no plain-text CSV',
        'Export it again as CSV in UTF-8.',
        { line: this.line },
      );
    }
    this.pending += text;
    const end = this.pending.lastIndexOf('\n') + 1;
    const block = this.pending.slice(0, end);
    // A line break inside quotes ends no record: wait for the rest.
    if (end > 0 && quotesIn(block) % 2 === 0) {
      this.pending = this.pending.slice(end);
      this.parse(block);
    }
    if (this.pending.length > MAX_RECORD_CHARACTERS) {
      throw new Problem(
        'a record is longer than 1 MB',
        'Look for a quote that is never closed, or for missing line breaks.',
        { line: this.line },
      );
    }
  }

  finish(): void {
    this.parse(this.pending);
    this.pending = '';
  }

  private parse(block: string): void {
    if (block === '') return;
    const { data, meta } = Papa.parse<string[]>(block, {
      delimiter: this.delimiter,
      delimitersToGuess: [',', ';', '\t', '|'],
    });
    if (this.delimiter === '') this.delimiter = meta.delimiter;
    const mayBreakInside = block.includes('"');
    // The text behind the last line break is no record, but papaparse returns it as an empty one.
    if (block.endsWith('\n')) data.pop();
    for (const cells of data) {
      if (cells.length > 1 || cells[0].trim() !== '') this.visit(cells, this.line);
      this.line++;
      if (mayBreakInside) for (const cell of cells) this.line += newlinesIn(cell);
    }
  }
}

/**
 * Streams the records of a CSV file, plain or gzip (told by its first bytes), blank lines left out.
 *
 * @throws Problem where the file cannot be read, is cut off, or is no text; whatever `visit` throws passes through
 */
export async function readRecords(path: string, visit: RecordVisitor): Promise<FileIdentity> {
  const parser = new BlockParser(visit);
  const hash = createHash('sha256');
  let bytes = 0;
  try {
    const file = createReadStream(path, { highWaterMark: CHUNK_BYTES });
    let text: Readable = file;
    if (await isGzip(path)) {
      const gunzip = createGunzip({ chunkSize: CHUNK_BYTES });
      file.once('error', (error) => gunzip.destroy(error));
      text = file.pipe(gunzip);
    }
    file.on('data', (chunk) => {
      bytes += chunk.length;
      hash.update(chunk);
    });
    try {
      let first = true;
      for await (const chunk of text.setEncoding('utf8')) {
        parser.push(first ? (chunk as string).replace(/^\ufeff/, '') : chunk);
        first = false;
      }
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
  const { code, message } = error as NodeJS.ErrnoException;
  if (code?.startsWith('Z_')) {
    return new Problem('the gzip data are damaged or cut off', 'Export the file again or copy it again.');
  }
  if (code === 'ENOENT') return new Problem('there is no such file', 'Look at its name and folder.');
  if (code === 'EACCES' || code === 'EISDIR' || code === 'EIO') {
    return new Problem(`the file cannot be read (${message})`, 'Look at its permissions.');
  }
  return error;
}
