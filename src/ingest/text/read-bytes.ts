import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import { createGunzip } from 'node:zlib';
import { Problem } from '../../recording/problem.js';

/** Opens something to read: a file, or bytes in memory. */
export type ByteSource = () => AsyncIterable<Uint8Array>;

/** Identity of a file that was read to its end. */
export interface FileIdentity {
  readonly bytes: number;
  readonly sha256: string;
  readonly packed: boolean;
}

const CHUNK_BYTES = 1 << 18;
/** Encoding and packing show in so many bytes. */
const LEAST_FIRST_BYTES = 512;

/** Exports shrink to a tenth or so; what unpacks to more than this many times its size is no export. */
const MOST_UNPACKING = 200;
/** A small file may be as repetitive as it likes. */
const FREE_UNPACKED_BYTES = 1 << 26;

/** The bytes of a file on disk. */
export const fileBytes =
  (path: string): ByteSource =>
  () =>
    createReadStream(path, { highWaterMark: CHUNK_BYTES });

/** Called with each chunk; false ends the reading early. */
export type ChunkVisitor = (chunk: Uint8Array) => boolean;

/** What a file's first bytes say it is, where that is no text. */
function refuseOtherKinds(first: Uint8Array): void {
  if (first[0] === 0x50 && first[1] === 0x4b && first[2] === 0x03 && first[3] === 0x04) {
    throw new Problem(
      'the file is a zip archive or a spreadsheet workbook, and no CSV',
      'Unpack it, or save the sheet as CSV.',
    );
  }
}

/** @throws Problem where a little packed data make much text: a gzip bomb */
function watchUnpacking(): (unpacked: number, packed: number) => void {
  let total = 0;
  return (unpacked, packed) => {
    total += unpacked;
    if (total > FREE_UNPACKED_BYTES && total > MOST_UNPACKING * packed) {
      throw new Problem(
        `the gzip data unpack to more than ${MOST_UNPACKING} times their size`,
        'No export does that; look at where the file comes from.',
      );
    }
  };
}

/**
 * Streams a file's content, unpacked where it is gzip (told by its first bytes), and takes the SHA-256 of the file as
 * it lies there.
 *
 * @returns null where `visit` ended the reading early
 * @throws Problem where the file cannot be read or is cut off; whatever `visit` throws passes through
 */
export async function readBytes(open: ByteSource, visit: ChunkVisitor): Promise<FileIdentity | null> {
  const hash = createHash('sha256');
  let bytes = 0;
  async function* counted(): AsyncGenerator<Uint8Array> {
    for await (const chunk of open()) {
      bytes += chunk.length;
      hash.update(chunk);
      yield chunk;
    }
  }
  const source = counted();
  try {
    const start = await atLeast(LEAST_FIRST_BYTES, source);
    const packed = start[0] === 0x1f && start[1] === 0x8b;
    async function* whole(): AsyncGenerator<Uint8Array> {
      yield start;
      yield* source;
    }
    if (!packed) {
      refuseOtherKinds(start);
      for await (const chunk of whole()) if (!visit(chunk)) return null;
    } else if (!(await unpack(whole(), visit, () => bytes))) return null;
    return { bytes, sha256: hash.digest('hex'), packed };
  } catch (error) {
    throw fileProblem(error);
  } finally {
    await source.return(undefined);
  }
}

/** The first bytes, so many that they show what the file is, whatever the chunks in which it comes. */
async function atLeast(count: number, source: AsyncGenerator<Uint8Array>): Promise<Uint8Array> {
  let start: Uint8Array = new Uint8Array(0);
  while (start.length < count) {
    const { done, value } = await source.next();
    if (done) break;
    start = start.length === 0 ? value : Buffer.concat([start, value]);
  }
  return start;
}

async function unpack(
  source: AsyncGenerator<Uint8Array>,
  visit: ChunkVisitor,
  packedBytes: () => number,
): Promise<boolean> {
  const feed = Readable.from(source, { objectMode: false });
  const gunzip = createGunzip({ chunkSize: CHUNK_BYTES });
  const watch = watchUnpacking();
  feed.once('error', (error) => gunzip.destroy(error));
  try {
    for await (const chunk of feed.pipe(gunzip)) {
      watch(chunk.length, packedBytes());
      if (!visit(chunk)) return false;
    }
    // Zeros that pad a gzip file end the unpacking early; they are still part of the file.
    feed.unpipe();
    for await (const _ of feed);
    return true;
  } finally {
    feed.destroy();
    gunzip.destroy();
  }
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
