import { stat } from 'node:fs/promises';

/** What tells, without reading it, that a file is still the one that it was. */
export interface FileState {
  readonly bytes: number;
  /** ns since 1970. */
  readonly modified: bigint;
  readonly inode: bigint;
  /** `other`: a pipe or a device. */
  readonly kind: 'file' | 'folder' | 'other';
}

/** The state of a file; null where the system tells nothing of it. */
export async function fileState(path: string): Promise<FileState | null> {
  try {
    const entry = await stat(path, { bigint: true });
    return {
      bytes: Number(entry.size),
      modified: entry.mtimeNs,
      inode: entry.ino,
      kind: entry.isFile() ? 'file' : entry.isDirectory() ? 'folder' : 'other',
    };
  } catch {
    return null;
  }
}

/** True where nothing was written to the file in between, and no other took its place. */
export const isSameState = (a: FileState | null, b: FileState | null): boolean =>
  a !== null && b !== null && a.bytes === b.bytes && a.modified === b.modified && a.inode === b.inode;
