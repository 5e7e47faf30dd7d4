import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join, relative, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import { hasCode } from './names-in.js';

const PACKAGE = fileURLToPath(new URL('../..', import.meta.url));
const CODE = fileURLToPath(new URL('..', import.meta.url));

/** Declarations of types change nothing that runs. */
const CODE_FILE = /(?<!\.d)\.(?:[cm]?js|[cm]?tsx?|json)$/;

/** Where they are there, they say which libraries are installed. */
const MANIFESTS = ['package.json', 'package-lock.json', join('node_modules', '.package-lock.json')];

/**
 * What makes two programs give the same results: a SHA-256 over the code files, the installed libraries and the parts
 * of Node that results hang on. Anything else, such as the version alone, would miss a change while developing.
 *
 * @param folder of the package
 * @param codeFolder of the code that runs, inside it
 */
export async function programIdentity(folder = PACKAGE, codeFolder = CODE): Promise<string> {
  const hash = createHash('sha256');
  const { node, icu, tz } = process.versions;
  hash.update(JSON.stringify({ node, icu, tz }));
  const code = (await readdir(codeFolder, { recursive: true })).filter((name) => CODE_FILE.test(name));
  const files = [
    ...code.sort().map((name) => join(codeFolder, name)),
    ...MANIFESTS.map((n) => join(folder, n)),
  ];
  // A few hundred small files: all at once is faster than one by one, and their order stays.
  const contents = await Promise.all(files.map(contentOf));
  files.forEach((file, i) => {
    const name = relative(folder, file).split(sep).join('/');
    hash.update(`\n${name} ${contents[i]?.length ?? 'none'}\n`).update(contents[i] ?? '');
  });
  return hash.digest('hex');
}

async function contentOf(file: string): Promise<Buffer | null> {
  try {
    return await readFile(file);
  } catch (error) {
    if (hasCode(error, 'ENOENT')) return null;
    throw error;
  }
}
