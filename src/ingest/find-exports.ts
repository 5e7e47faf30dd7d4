import { stat } from 'node:fs/promises';
import { basename, resolve, sep } from 'node:path';
import { glob, isDynamicPattern } from 'tinyglobby';
import { Problem } from '../recording/problem.js';

/** An export file to read. */
export interface ExportFile {
  readonly path: string;
  /** Its name in messages and reports: the path below the folder that was given, with forward slashes. */
  readonly name: string;
}

const EXPORT_ENDINGS = '**/*.{csv,csv.gz,CSV,CSV.GZ}';
const slashes = (path: string): string => path.split(sep).join('/');

async function kindOf(path: string): Promise<'file' | 'folder' | null> {
  try {
    return (await stat(path)).isDirectory() ? 'folder' : 'file';
  } catch {
    return null;
  }
}

async function matching(pattern: string, folder: string): Promise<ExportFile[]> {
  const names = await glob(pattern, { cwd: folder, followSymbolicLinks: false, onlyFiles: true });
  return names.map((name) => ({ path: resolve(folder, name), name: slashes(name) }));
}

async function findOne(entry: string, base: string): Promise<ExportFile[]> {
  const path = resolve(base, entry);
  const kind = await kindOf(path);
  if (kind === 'file') return [{ path, name: basename(path) }];
  const found =
    kind === 'folder'
      ? await matching(EXPORT_ENDINGS, path)
      : isDynamicPattern(slashes(entry))
        ? await matchingBelow(entry, base)
        : [];
  if (found.length > 0) return found;
  throw kind === 'folder'
    ? new Problem(
        `the folder ${entry} holds no .csv or .csv.gz file`,
        'Look at exports in the pipeline file, or at --data.',
      )
    : new Problem(
        `there is no file or folder ${entry}`,
        'Look at exports in the pipeline file, or at --data.',
      );
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
 * `base`; links to folders are not followed. Sorted by name, each file once.
 *
 * @throws Problem where an entry leads to no file
 */
export async function findExports(entries: readonly string[], base: string): Promise<ExportFile[]> {
  const found = (await Promise.all(entries.map((entry) => findOne(entry, base)))).flat();
  const unique = [...new Map(found.map((file) => [file.path, file])).values()];
  return unique.sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : a.path < b.path ? -1 : 1));
}
