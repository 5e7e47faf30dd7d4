import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, readdir, realpath, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { Problem } from '../recording/problem.js';

/** What a run writes at the top of its folder; anything else there is somebody's own. */
const OURS = /^(index\.html|patient-.+\.html|results\.json|run\.json|tables|\.DS_Store|Thumbs\.db)$/;

/** Every run writes beside the folder under a name of its own, so that two at once do not meet. */
const beside = (folder: string, token: string, ending: string): string =>
  join(dirname(folder), `.${basename(folder)}.${token}.${ending}`);

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Tokens of runs that ended without tidying up; a token starts with the process number. */
async function deadTokens(folder: string): Promise<string[]> {
  const start = `.${basename(folder)}.`;
  const names = existsSync(dirname(folder)) ? await readdir(dirname(folder)) : [];
  const tokens = names
    .filter((name) => name.startsWith(start))
    .flatMap((name) => /^(\d+-[0-9a-f]+)\.(?:new|old)$/.exec(name.slice(start.length))?.[1] ?? []);
  return [...new Set(tokens)].filter((token) => !isAlive(Number.parseInt(token, 10)));
}

/**
 * Finishes or takes back what a killed run left: the old folder is only moved aside when the new one is complete.
 */
async function recover(folder: string): Promise<void> {
  for (const token of await deadTokens(folder)) {
    const [fresh, old] = [beside(folder, token, 'new'), beside(folder, token, 'old')];
    if (existsSync(old) && !existsSync(folder)) await rename(existsSync(fresh) ? fresh : old, folder);
    await rm(fresh, { recursive: true, force: true });
    await rm(old, { recursive: true, force: true });
  }
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
export async function swapFolder(given: string): Promise<FolderSwap> {
  let folder = given;
  const token = `${process.pid}-${randomBytes(4).toString('hex')}`;
  try {
    await recover(folder);
    // A link stays a link: what it leads to is replaced.
    if (existsSync(folder)) folder = await realpath(folder);
    await refuseForeign(folder);
    await recover(folder);
    await mkdir(join(beside(folder, token, 'new'), 'tables'), { recursive: true });
  } catch (error) {
    if (error instanceof Problem) throw error;
    const { code } = error as NodeJS.ErrnoException;
    throw new Problem(`the folder ${folder} cannot be written (${code})`, 'Choose another with --out.');
  }
  const [fresh, old] = [beside(folder, token, 'new'), beside(folder, token, 'old')];
  return {
    fresh,
    commit: () => putInPlace(fresh, folder, old),
    discard: () => rm(fresh, { recursive: true, force: true }),
  };
}

const hasCode = (error: unknown, codes: readonly string[]): boolean =>
  codes.includes((error as NodeJS.ErrnoException).code ?? '');

/** Another run may put its folder into the same place in between: then that one is moved aside in turn. */
async function putInPlace(fresh: string, folder: string, old: string): Promise<void> {
  const TRIES = 20;
  for (let n = 1; ; n++) {
    await rename(folder, old).catch((error) => {
      if (!hasCode(error, ['ENOENT'])) throw error;
    });
    try {
      await rename(fresh, folder);
      break;
    } catch (error) {
      if (n === TRIES || !hasCode(error, ['ENOTEMPTY', 'EEXIST', 'EPERM'])) throw error;
    }
    await rm(old, { recursive: true, force: true });
  }
  await rm(old, { recursive: true, force: true });
}
