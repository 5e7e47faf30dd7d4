import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import { delimiter, join, resolve } from 'node:path';
import { Problem } from '../../recording/problem.js';

/** Names under which it is installed, the first that is found counts. */
const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'] as const;
/** Names another one, or the path of one that is not on PATH. */
const VARIABLE = 'CISTERN_CHROMIUM';

const OTHERWISE = 'or leave --pdf out and print the pages from any browser';

/**
 * The path of the Chromium that prints: the one that the environment names, or the first on PATH.
 *
 * @throws Problem where there is none
 */
export async function findChromium(environment: NodeJS.ProcessEnv = process.env): Promise<string> {
  const named = environment[VARIABLE] ?? '';
  const folders = (environment.PATH ?? '').split(delimiter).filter((folder) => folder !== '');
  for (const name of named === '' ? NAMES : [named]) {
    for (const path of /[\\/]/.test(name)
      ? [resolve(name)]
      : folders.flatMap((folder) => inFolder(folder, name)))
      if (await isProgram(path)) return path;
  }
  if (named !== '')
    throw new Problem(
      `--pdf prints with the program that ${VARIABLE} names, and ${named} is no program that can be started`,
      `Mend the variable, ${OTHERWISE}.`,
    );
  throw new Problem(
    `--pdf prints with Chromium, and there is none on PATH under the names ${NAMES.join(', ')}`,
    `Install chromium, name its program in ${VARIABLE}, ${OTHERWISE}.`,
  );
}

const inFolder = (folder: string, name: string): string[] =>
  (process.platform === 'win32' ? [name, `${name}.exe`] : [name]).map((file) => resolve(join(folder, file)));

async function isProgram(path: string): Promise<boolean> {
  try {
    await access(path, constants.X_OK);
    return (await stat(path)).isFile();
  } catch {
    return false;
  }
}
