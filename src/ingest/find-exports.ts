import { existsSync } from 'node:fs';
import { stat } from 'node:fs/promises';
import { basename, dirname, join, resolve, sep } from 'node:path';
import { glob, isDynamicPattern } from 'tinyglobby';
import { Problem, shorten } from '../recording/problem.js';
import type { ByteSource } from './text/read-bytes.js';

/** An export file to read. */
export interface ExportFile {
  readonly path: string;
  /** Its name in messages and reports: the path below the folder that was given, with forward slashes. */
  readonly name: string;
  /** Where its bytes come from, when not from `path`. */
  readonly open?: ByteSource | undefined;
}

const EXPORT_ENDINGS = '**/*.{csv,csv.gz}';
const slashes = (path: string): string => path.split(sep).join('/');

async function kindOf(path: string): Promise<'file' | 'folder' | 'other' | null> {
  try {
    const entry = await stat(path);
    return entry.isDirectory() ? 'folder' : entry.isFile() ? 'file' : 'other';
  } catch {
    return null;
  }
}

/** The tables of a report that was written among the exports are no exports. */
const isTableOfReport = (path: string): boolean =>
  basename(dirname(path)) === 'tables' && existsSync(join(dirname(path), '..', 'results.json'));

async function matching(pattern: string, folder: string, anyCase = false): Promise<ExportFile[]> {
  const names = await glob(pattern, {
    cwd: folder,
    followSymbolicLinks: false,
    onlyFiles: true,
    expandDirectories: false,
    caseSensitiveMatch: !anyCase,
  });
  return names
    .map((name) => ({ path: resolve(folder, name), name: slashes(name) }))
    .filter(({ path }) => !isTableOfReport(path));
}

async function findOne(entry: string, base: string, fix: string): Promise<ExportFile[]> {
  const path = resolve(base, entry);
  const kind = await kindOf(path);
  if (kind === 'file') return [{ path, name: basename(path) }];
  const found =
    kind === 'folder'
      ? await matching(EXPORT_ENDINGS, path, true)
      : isDynamicPattern(slashes(entry))
        ? await matchingBelow(entry, base)
        : [];
  if (found.length > 0) return found;
  const shown = shorten(entry, 200);
  const what = {
    folder: `the folder ${shown} holds no .csv or .csv.gz file (links in it are not followed)`,
    other: `${shown} is neither a file nor a folder`,
    none: `there is no file or folder ${shown}`,
  }[kind === 'folder' || kind === 'other' ? kind : 'none'];
  throw new Problem(what, fix);
}

/** Files that would share a name are told apart by the folders above them. */
function withNames(files: readonly ExportFile[]): ExportFile[] {
  let named = [...files];
  for (let more = 1; more < 100; more++) {
    const count = new Map<string, number>();
    for (const { name } of named) count.set(name, (count.get(name) ?? 0) + 1);
    if (count.size === named.length) break;
    named = named.map(({ path, name }) => {
      const parts = slashes(path).split('/');
      const longer = parts.slice(-name.split('/').length - 1).join('/');
      return { path, name: count.get(name) === 1 ? name : longer };
    });
  }
  return named.map(({ path, name }) => ({ path, name: shorten(name, name.length) }));
}

/** Expands a pattern below its last folder without wildcards, so that names do not depend on where it was typed. */
async function matchingBelow(pattern: string, base: string): Promise<ExportFile[]> {
  const parts = slashes(pattern).split('/');
  const fixed = parts.findIndex((part) => isDynamicPattern(part));
  const folder = resolve(base, parts.slice(0, fixed).join('/') || (pattern.startsWith('/') ? '/' : '.'));
  return matching(parts.slice(fixed).join('/'), folder);
}

/**
 * The files that `exports` means: files, folders (all CSV in and below them) or patterns, each relative to
 * `base`; links found in a folder or by a pattern are not followed. Sorted by name, each file once.
 *
 * @param fix what a message says to do where an entry leads to no file
 * @throws Problem where an entry leads to no file
 */
export async function findExports(
  entries: readonly string[],
  base: string,
  fix = 'Look at exports in the pipeline file, or at --data.',
): Promise<ExportFile[]> {
  const found = (await Promise.all(entries.map((entry) => findOne(entry, base, fix)))).flat();
  const unique = withNames([...new Map(found.map((file) => [file.path, file])).values()]);
  return unique.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.path < b.path ? -1 : 1));
}
