import { chmod, lstat, mkdir, readFile, rename, rm, rmdir, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { hasCode, namesIn } from './names-in.js';
import { isElsewhere, isLive } from './process-token.js';
import { SHARD_RECORD } from './shard-record.js';
import { decodeEntry, encodeEntry, type Stored } from './stored-entry.js';

/** The results of patients beside a report folder; plain data, so that it can go to another thread. */
export interface ResultStore {
  readonly folder: string;
  /** Of the run: its half-written files carry it. */
  readonly token: string;
  readonly program: string;
  /** True: what is stored is not read, and is replaced. */
  readonly isFresh: boolean;
}

/** `<key>.result`, or with the run's token while it is being written. */
const ENTRY = /^([0-9a-f]{64})\.(?:result|(\d+-[0-9a-f]+)\.part)$/;

/** Results hold patients. */
const [PRIVATE_FOLDER, PRIVATE_FILE] = [0o700, 0o600];

/** Where the results of a report folder are stored: beside it, so that replacing the folder leaves them. */
export const storeFolder = (report: string): string => join(dirname(report), `.${basename(report)}.store`);

/** True for a folder that holds stored results and nothing else. */
export async function isStore(folder: string): Promise<boolean> {
  if (!/^\..+\.store$/.test(basename(folder))) return false;
  const entry = await lstat(folder).catch(() => null);
  return (
    entry?.isDirectory() === true &&
    (await namesIn(folder)).every((name) => ENTRY.test(name) || SHARD_RECORD.test(name))
  );
}

/**
 * Makes the store's folder ready for this user alone.
 *
 * @returns what speaks against using it, null where nothing does
 */
export async function openStore({ folder }: ResultStore): Promise<string | null> {
  try {
    await mkdir(dirname(folder), { recursive: true });
    await mkdir(folder, { mode: PRIVATE_FOLDER }).catch((error) => {
      if (!hasCode(error, 'EEXIST')) throw error;
    });
    const entry = await lstat(folder);
    // Whoever can write into the store can write into the report.
    if (!entry.isDirectory()) return `${basename(folder)} is no folder`;
    if (entry.uid !== (process.getuid?.() ?? entry.uid))
      return `${basename(folder)} belongs to somebody else`;
    await chmod(folder, PRIVATE_FOLDER);
    return null;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code ?? String(error);
  }
}

/**
 * When a store that is open was opened, ms since 1970 by the clock that stamps its entries: that of a server where the folder
 * is shared, and not that of this machine. Opening it has set its rights, which stamps the folder. 0 where it cannot be told:
 * no entry is older than that.
 */
export const openedMs = ({ folder }: ResultStore): Promise<number> =>
  stat(folder).then(
    ({ ctimeMs }) => ctimeMs,
    () => 0,
  );

/** What is stored under a key; null where there is nothing, or nothing that is whole. */
export async function readStored({ folder }: ResultStore, key: string): Promise<Stored | null> {
  try {
    return decodeEntry(key, await readFile(join(folder, `${key}.result`)));
  } catch {
    // Whatever stands in the way: the patient is read anew, and the entry replaced.
    return null;
  }
}

/**
 * Writes into an open store, and once more where that is gone: a run on another machine that was done may have taken a half
 * for what a killed run left, and a merge that found nothing yet may have removed the empty folder.
 */
export async function intoStore(store: ResultStore, write: () => Promise<void>): Promise<void> {
  await write().catch(async (error) => {
    if (!hasCode(error, 'ENOENT')) throw error;
    const unusable = await openStore(store);
    if (unusable !== null) throw Object.assign(new Error(unusable), { code: unusable });
    await write();
  });
}

/**
 * Stores a result: written beside its place and moved there in one step. Nothing forces it to the disk, since an entry
 * that a power cut tore is told by its checksum. Errors of the system pass through.
 */
export async function writeStored(store: ResultStore, key: string, stored: Stored): Promise<void> {
  const half = join(store.folder, `${key}.${store.token}.part`);
  const bytes = encodeEntry(key, stored);
  try {
    await intoStore(store, async () => {
      await writeFile(half, bytes, { mode: PRIVATE_FILE });
      await rename(half, join(store.folder, `${key}.result`));
    });
  } catch (error) {
    await rm(half, { force: true });
    throw error;
  }
}

/**
 * Removes what killed runs left half written, and the folder where it holds nothing. After a run that came to its end
 * also the entries that it did not need, but for those that another run has stored meanwhile.
 *
 * @param needed keys of the entries that the run used or wrote; null where it did not come to its end
 * @param openedAt when the run opened the store, in ms by the clock of `openedMs`
 */
export async function tidyStore(
  { folder, token }: ResultStore,
  needed: ReadonlySet<string> | null,
  openedAt: number,
): Promise<void> {
  // Where all that was needed is there, nobody waits for what another machine has half written.
  const isLeft = (writer: string): boolean =>
    writer === token || !isLive(writer) || (needed !== null && isElsewhere(writer));
  for (const name of await namesIn(folder)) {
    const path = join(folder, name);
    const [isRecord, recorder] = SHARD_RECORD.exec(name) ?? [];
    if (isRecord !== undefined) {
      const isOver = recorder === undefined ? needed !== null : isLeft(recorder);
      if (isOver && (recorder !== undefined || (await isOlder(path, openedAt))))
        await rm(path, { force: true });
      continue;
    }
    const [, key, writer] = ENTRY.exec(name) ?? [];
    if (key === undefined) continue;
    const isDone = writer === undefined ? needed?.has(key) === false : isLeft(writer);
    if (isDone && (writer !== undefined || (await isOlder(path, openedAt)))) await rm(path, { force: true });
  }
  await rmdir(folder).catch(() => {});
}

/** A file that is gone is not older. */
const isOlder = (path: string, thanMs: number): Promise<boolean> =>
  stat(path).then(
    ({ mtimeMs }) => mtimeMs < thanMs,
    () => false,
  );
