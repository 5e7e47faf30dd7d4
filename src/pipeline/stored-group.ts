import type { ExportFile } from '../ingest/find-exports.js';
import { type FileState, fileState, isSameState } from '../ingest/text/file-state.js';
import type { Draw } from '../report/charts/spec.js';
import { faultyGroup } from './failed-group.js';
import { hashFile } from './hash-file.js';
import { type GroupTask, type PatientPart, reportGroup } from './report-group.js';
import { type ResultStore, readStored, writeStored } from './result-store.js';
import { storeKey } from './store-key.js';
import type { Stored, StoredState } from './stored-entry.js';

/** A group to report, and where its result may be stored. */
export interface StoredTask {
  readonly task: GroupTask;
  /** Null: nothing is kept. */
  readonly store: ResultStore | null;
  /** True: what the store lacks is not read, since shards were to bring it. */
  readonly isStoredOnly: boolean;
}

/** What came of a group; plain data, so that it can come from another thread. */
export interface GroupOutcome {
  readonly parts: readonly PatientPart[];
  readonly isReused: boolean;
  /** The entry that holds it; null where none does. */
  readonly key: string | null;
  /** Why the store could not take it, where it should have. */
  readonly unkept: string | null;
  /** True where the store lacks the result and nothing was read. */
  readonly isLacking: boolean;
}

/** The drawing code takes long to load, and is not needed for figures alone nor for what is stored. */
const draw: Draw = async (spec, key) => (await import('../report/charts/render.js')).renderSvg(spec, key);

const statesOf = (files: readonly ExportFile[]): Promise<(FileState | null)[]> =>
  Promise.all(files.map(({ path }) => fileState(path)));

const storedState = (state: FileState | null): StoredState => ({
  bytes: state?.bytes ?? 0,
  modifiedMs: Number((state?.modified ?? 0n) / 1_000_000n),
});

/** True where nothing was written to the files since the result came of them, as far as the system tells. */
const areUntouched = (now: readonly (FileState | null)[], { states }: Stored): boolean =>
  now.every((state, i) => {
    const { bytes, modifiedMs } = storedState(state);
    return states[i].bytes === bytes && states[i].modifiedMs === modifiedMs;
  });

/** True where the files hold what the stored result came of. */
async function holdSame(files: readonly ExportFile[], sha256: readonly string[]): Promise<boolean> {
  for (const [i, { path }] of files.entries()) {
    const hash = await hashFile(path).catch(() => null);
    if (hash === null || hash !== sha256[i]) return false;
  }
  return true;
}

/**
 * The SHA-256 of each file as the reading itself took it, so that a result never stands under the name of content that
 * came after it. Null where a file was not read to its end, or the failure says nothing of the files.
 */
function hashesOf(files: readonly ExportFile[], parts: readonly PatientPart[]): string[] | null {
  if (parts.some(({ isPassing }) => isPassing)) return null;
  const read = new Map(parts.flatMap((part) => part.files.map(({ file, sha256 }) => [file, sha256])));
  const hashes = files.flatMap(({ name }) => read.get(name) ?? []);
  return hashes.length === files.length ? hashes : null;
}

const LACKING: GroupOutcome = { parts: [], isReused: false, key: null, unkept: null, isLacking: true };

/**
 * The group's result from the store, where nothing that it hangs on has changed; read, reported and stored otherwise. Where
 * shards were to bring it, files that nobody wrote to since are not read again to be compared: a shared folder may hold
 * terabytes of them.
 */
export async function reportOrReuse({ task, store, isStoredOnly }: StoredTask): Promise<GroupOutcome> {
  const { files } = task.group;
  const before = await statesOf(files);
  const sizes = before.flatMap((state) => (state?.kind === 'file' ? [state.bytes] : []));
  const key = store && sizes.length === files.length ? storeKey(task, sizes, store.program) : null;
  if (store && key !== null && !store.isFresh) {
    const stored = await readStored(store, key);
    const isUntouched = stored !== null && isStoredOnly && areUntouched(before, stored);
    if (stored && (isUntouched || (await holdSame(files, stored.sha256)))) {
      return { parts: stored.parts, isReused: true, key, unkept: null, isLacking: false };
    }
  }
  if (isStoredOnly) return LACKING;
  const parts = await reportGroup(task, draw).catch((error) => faultyGroup(task.group, error));
  const anew = { parts, isReused: false, key: null, unkept: null, isLacking: false };
  const sha256 = hashesOf(files, parts);
  if (!store || key === null || sha256 === null) return anew;
  const after = await statesOf(files);
  // Rows that were set aside are fetched from the file afterwards: they may be of other content by then.
  if (!before.every((state, i) => isSameState(state, after[i]))) return anew;
  try {
    await writeStored(store, key, { sha256, states: after.map(storedState), parts });
    return { ...anew, key };
  } catch (error) {
    return { ...anew, unkept: (error as NodeJS.ErrnoException).code ?? String(error) };
  }
}
