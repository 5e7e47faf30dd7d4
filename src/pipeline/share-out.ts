import type { FileGroup } from '../ingest/group-files.js';
import { fileState } from '../ingest/text/file-state.js';
import { sharesOf } from './shares.js';

/** Bytes of a group's files; those that are not there count as none. */
export async function bytesOf({ files }: FileGroup): Promise<number> {
  const states = await Promise.all(files.map(({ path }) => fileState(path)));
  return states.reduce((sum, state) => sum + (state?.bytes ?? 0), 0);
}

/** By group the number of its share. */
export const shareOut = async (groups: readonly FileGroup[], of: number): Promise<number[]> =>
  sharesOf(groups, await Promise.all(groups.map(bytesOf)), of);
