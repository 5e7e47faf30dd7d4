import { mkdir, rmdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { hasCode, namesIn } from './names-in.js';

/**
 * A run writes to its folder every few minutes, so one that was silent for a day has died. It is also far more than the
 * clocks of machines are apart where their times stand on files.
 */
const SILENT_MS = 24 * 3600 * 1000;

/** When something was last written to a folder or to what stands in it, ms since 1970; null where it is not there. */
async function lastWritten(folder: string): Promise<number | null> {
  const paths = [folder, ...(await namesIn(folder)).map((name) => join(folder, name))];
  const times = await Promise.all(
    paths.map((path) =>
      stat(path).then(
        ({ mtimeMs }) => mtimeMs,
        (error) => {
          if (!hasCode(error, 'ENOENT')) throw error;
          return null;
        },
      ),
    ),
  );
  return times.reduce((a, b) => (a === null || b === null ? (a ?? b) : Math.max(a, b)), null);
}

/** What time it is by the clock that stamps the files: that of a server where the folder is shared. */
async function timeThere(probe: string): Promise<number> {
  await mkdir(probe);
  try {
    return (await stat(probe)).mtimeMs;
  } finally {
    await rmdir(probe).catch(() => {});
  }
}

/**
 * True where nothing was written to any of the folders for a day. It is asked of what a run on another machine has left,
 * since nobody here can ask whether its process is still there.
 *
 * @param probe a name that may be made for a moment beside the folders, to learn the time there
 */
export async function areGivenUp(folders: readonly string[], probe: string): Promise<boolean> {
  try {
    const times = (await Promise.all(folders.map(lastWritten))).filter((time) => time !== null);
    return times.length > 0 && (await timeThere(probe)) - Math.max(...times) > SILENT_MS;
  } catch {
    // Where it cannot be told, they stay.
    return false;
  }
}
