import { createHash } from 'node:crypto';
import { deserialize, serialize } from 'node:v8';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { PatientPart } from './report-group.js';

/** What tells on every machine that shares a folder that a file is still the one that it was. */
export interface StoredState {
  readonly bytes: number;
  /** Milliseconds since 1970: what machines tell of less differs. */
  readonly modifiedMs: number;
}

/** A result with the SHA-256 of each file that it came of, in the order of the task's files. */
export interface Stored {
  readonly sha256: readonly string[];
  /** Of each file, as it was when it was read. */
  readonly states: readonly StoredState[];
  readonly parts: readonly PatientPart[];
}

const HEAD = /^cistern-result 2 (\d+) ([0-9a-f]{64})\n/;
/** The head fits into so many bytes. */
const MOST_HEAD_BYTES = 128;

const checksum = (key: string, body: Uint8Array): string =>
  createHash('sha256').update(key).update(body).digest('hex');

/**
 * An entry as bytes: a line with length and checksum, then the packed result. `serialize` keeps what JSON would lose
 * (-0, NaN, `undefined`), so that what comes out of the store gives the same bytes as what was never in it.
 */
export function encodeEntry(key: string, stored: Stored): Buffer {
  // The fastest level: pages are drawings, and shrink to a fifth even so.
  const body = deflateRawSync(serialize(stored), { level: 1 });
  return Buffer.concat([Buffer.from(`cistern-result 2 ${body.length} ${checksum(key, body)}\n`), body]);
}

/** What an entry holds; null where it is torn, damaged, or of another key. */
export function decodeEntry(key: string, bytes: Buffer): Stored | null {
  const head = HEAD.exec(bytes.subarray(0, MOST_HEAD_BYTES).toString('latin1'));
  if (!head) return null;
  const body = bytes.subarray(head[0].length);
  if (body.length !== Number(head[1]) || checksum(key, body) !== head[2]) return null;
  return deserialize(inflateRawSync(body)) as Stored;
}
