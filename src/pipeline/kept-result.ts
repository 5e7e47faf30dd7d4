import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import { type RecordingResult, type UnitRecording, unitRecording } from '../report/results-schema.js';

/** A patient's figures on their way from where they were made: what the unit needs at hand, and all of it packed. */
export interface PackedResult {
  readonly unit: UnitRecording;
  readonly packed: Uint8Array;
}

/** The same once all of it lies in a file. */
export interface KeptResult {
  readonly unit: UnitRecording;
  readonly file: string;
}

/** Inside the new report folder until the report is written. */
const FOLDER = '.figures';

/**
 * Packs a patient's figures, where they were made: the main thread would have to clear up a megabyte of objects for each
 * patient. The bytes stand in a buffer of their own size, which is what another thread gets.
 */
export const packed = (result: RecordingResult): PackedResult => ({
  unit: unitRecording(result),
  packed: new Uint8Array(deflateRawSync(serialize(result), { level: 1 })),
});

/** Puts figures into a file of the new report folder, so that the memory does not grow with the patients. */
export async function keepResult(
  fresh: string,
  { unit, packed: bytes }: PackedResult,
  name: string,
): Promise<KeptResult> {
  const file = join(fresh, FOLDER, name);
  await mkdir(join(fresh, FOLDER), { recursive: true });
  await writeFile(file, bytes, { mode: 0o600 });
  return { unit, file };
}

/** The figures again, as they were. */
export const resultIn = async ({ file }: KeptResult): Promise<RecordingResult> =>
  deserialize(inflateRawSync(await readFile(file))) as RecordingResult;

/** Nothing is needed of the files any more. */
export const dropResults = (fresh: string): Promise<void> =>
  rm(join(fresh, FOLDER), { recursive: true, force: true });
