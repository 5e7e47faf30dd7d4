import { existsSync } from 'node:fs';
import { lstat, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { hasCode, namesIn } from './names-in.js';
import { isStore } from './result-store.js';

/** A folder beside its place, as every run writes it: name, token (the process number first) and which of the two it is. */
const SWAPPING = /^\.(.+)\.(\d+-[0-9a-f]+)\.(new|old)$/;

/** Name and token of a folder that is being swapped; null for any other name. */
export function swappingPart(entry: string): { name: string; token: string } | null {
  const match = SWAPPING.exec(entry);
  return match && { name: match[1], token: match[2] };
}

/** True for a folder, and no link to one, that a report has written. */
export async function isReport(folder: string): Promise<boolean> {
  const isFolder = await lstat(folder).then(
    (entry) => entry.isDirectory(),
    () => false,
  );
  return isFolder && ['results.json', 'tables'].every((name) => existsSync(join(folder, name)));
}

/** True for what stays where a report's folder is replaced: reports in folders of their own, also half swapped ones, and what is stored for them. */
const isCarried = async (folder: string, name: string): Promise<boolean> =>
  name !== 'tables' &&
  (swappingPart(name) !== null ||
    (await isReport(join(folder, name))) ||
    (await isStore(join(folder, name))));

/** True where a folder holds what is carried; a new one does so only once it is complete. */
export async function holdsReports(folder: string): Promise<boolean> {
  for (const name of await namesIn(folder)) if (await isCarried(folder, name)) return true;
  return false;
}

/**
 * Moves the reports inside a folder into another one. Each is moved in one step, so that it stands whole in one of the
 * two whatever the instant at which a run is killed.
 *
 * @param wins whose report stays where both hold one of the same name
 */
export async function carryReports(from: string, to: string, wins: 'from' | 'to'): Promise<void> {
  for (const name of await namesIn(from)) {
    if (!(await isCarried(from, name))) continue;
    const target = join(to, name);
    if (existsSync(target)) {
      if (wins === 'to') continue;
      await rm(target, { recursive: true, force: true });
    }
    // Another run that finishes the same swap may have moved it already.
    await rename(join(from, name), target).catch((error) => {
      if (!hasCode(error, 'ENOENT')) throw error;
    });
  }
}
