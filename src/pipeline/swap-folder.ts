import { existsSync } from 'node:fs';
import { mkdir, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Problem } from '../recording/problem.js';

/** What a run writes at the top of its folder; anything else there is somebody's own. */
const OURS = /^(index\.html|patient-.+\.html|results\.json|run\.json|tables|\.DS_Store|Thumbs\.db)$/;

const beside = (folder: string, ending: string): string =>
  join(dirname(folder), `.${basename(folder)}.${ending}`);

/**
 * Finishes or takes back what a killed run left: the old folder is only moved aside when the new one is complete.
 */
async function recover(folder: string): Promise<void> {
  const [fresh, old] = [beside(folder, 'new'), beside(folder, 'old')];
  if (existsSync(old) && !existsSync(folder)) await rename(existsSync(fresh) ? fresh : old, folder);
  await rm(fresh, { recursive: true, force: true });
  await rm(old, { recursive: true, force: true });
}

async function refuseForeign(folder: string): Promise<void> {
  if (!existsSync(folder)) return;
  if (!(await stat(folder)).isDirectory()) {
    throw new Problem(`${folder} is a file`, 'Give --out a folder.');
  }
  const foreign = (await readdir(folder)).filter((name) => !OURS.test(name));
  if (foreign.length > 0) {
    throw new Problem(
      `the folder ${folder} holds ${foreign[0]}, which no report has written`,
      'Choose another folder with --out, or move your file away: a report replaces its folder as a whole.',
    );
  }
}

/** A folder that is written beside its place and swapped in whole. */
export interface FolderSwap {
  /** Where to write. */
  readonly fresh: string;
  /** Puts the new folder into its place. */
  commit(): Promise<void>;
  /** Takes everything back that was not committed. */
  discard(): Promise<void>;
}

/**
 * Starts to replace a folder; a run that finds a half-made swap finishes it first.
 *
 * @throws Problem where the folder holds something that no report has written, or cannot be written
 */
export async function swapFolder(folder: string): Promise<FolderSwap> {
  const [fresh, old] = [beside(folder, 'new'), beside(folder, 'old')];
  try {
    await refuseForeign(folder);
    await recover(folder);
    await mkdir(join(fresh, 'tables'), { recursive: true });
  } catch (error) {
    if (error instanceof Problem) throw error;
    const { code } = error as NodeJS.ErrnoException;
    throw new Problem(`the folder ${folder} cannot be written (${code})`, 'Choose another with --out.');
  }
  return {
    fresh,
    async commit() {
      if (existsSync(folder)) await rename(folder, old);
      await rename(fresh, folder);
      await rm(old, { recursive: true, force: true });
    },
    discard: () => rm(fresh, { recursive: true, force: true }),
  };
}
