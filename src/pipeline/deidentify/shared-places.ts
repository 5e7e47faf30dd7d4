import { statSync } from 'node:fs';
import { resolve } from 'node:path';
import { isDynamicPattern } from 'tinyglobby';

const isFolder = (path: string): boolean => {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
};

/**
 * The folders that `exports` looks into: those that it names, and those above the first wildcard of a pattern that goes
 * down into folders.
 */
export const exportFolders = (entries: readonly string[], base: string): string[] =>
  entries.flatMap((entry) => {
    const path = resolve(base, entry);
    if (isFolder(path)) return [path];
    if (!isDynamicPattern(entry)) return [];
    const parts = entry.split('/');
    const fixed = parts
      .slice(
        0,
        parts.findIndex((part) => isDynamicPattern(part)),
      )
      .join('/');
    const above = resolve(base, fixed || (entry.startsWith('/') ? '/' : '.'));
    return entry.includes('**') || fixed !== '' ? [above] : [];
  });
