import { Problem } from '../recording/problem.js';
import type { ExportFile } from './find-exports.js';
import { type FileState, fileState, isSameState } from './text/file-state.js';

/** @throws Problem where the file is not as it was, or was not read as long as it is */
function refuseChanged(file: string, before: FileState, after: FileState | null, bytesRead: number): void {
  if (isSameState(before, after) && bytesRead === before.bytes) return;
  const now = after?.bytes ?? null;
  const sizes =
    now === null
      ? 'it is gone now'
      : now === before.bytes
        ? 'other content of the same size'
        : `${before.bytes} bytes before, ${now} after`;
  throw new Problem(
    `the file changed while it was read (${sizes})`,
    'Wait until the export is finished, then run again.',
    { file },
  );
}

/**
 * Reads a file that nobody may write to meanwhile. What else went wrong with a file that changed, such as a row that
 * breaks off, only came of that.
 *
 * @param read reads the file whole, and gives how many bytes that were
 * @throws Problem where the file changed while it was read, or is none; whatever `read` throws passes through
 */
export async function readUnchanged<T extends { readonly bytes: number }>(
  { name, path, open }: ExportFile,
  read: () => Promise<T>,
): Promise<T> {
  // Bytes in memory stay as they are.
  const before = open ? null : await fileState(path);
  if (before === null) return read();
  // Reading a pipe would wait for ever; a folder says so itself.
  if (before.kind === 'other') {
    const what = 'a pipe or a device stands where the file was';
    throw new Problem(what, 'Export it again, or look at its name and folder.', { file: name });
  }
  try {
    const table = await read();
    refuseChanged(name, before, await fileState(path), table.bytes);
    return table;
  } catch (error) {
    refuseChanged(name, before, await fileState(path), before.bytes);
    throw error;
  }
}
