import { cpSync, existsSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { join, sep } from 'node:path';

/** Files below a folder, as sorted relative paths. */
export const filesBelow = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => statSync(join(folder, name)).isFile())
    .sort();

/**
 * Names the files in which a folder differs from the expected one, byte for byte; run.json is left out, since it tells
 * the time, and so are other reports in folders of their own inside the expected one, with what is stored of them. Where there are differences, the actual folder is copied to `keep` for a look.
 */
export function differences(actual: string, expected: string, keep: string): string[] {
  const ours = (name: string): boolean => {
    const [top] = name.split(sep);
    return name !== 'run.json' && !top.startsWith('.') && !existsSync(join(expected, top, 'results.json'));
  };
  const names = [
    ...new Set([...filesBelow(actual), ...(existsSync(expected) ? filesBelow(expected) : [])]),
  ].filter(ours);
  const found = names.filter((name) => {
    const [a, b] = [join(actual, name), join(expected, name)];
    return !existsSync(a) || !existsSync(b) || !readFileSync(a).equals(readFileSync(b));
  });
  rmSync(keep, { recursive: true, force: true });
  if (found.length > 0) cpSync(actual, keep, { recursive: true });
  return found.sort();
}
