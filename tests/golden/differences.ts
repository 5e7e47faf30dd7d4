import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { textOf } from '../support/pages-of.js';
import type { Report } from './golden-case.js';
import { lineChanges } from './line-changes.js';

/** So many changed lines of a file are told. */
const MOST_TOLD = 200;

const ELEMENT_ENDS = /<\/(?:th|caption|figcaption|summary|header|li|title)>/g;

/** What a reader of a file sees, line by line; markup and drawings are left out. */
function linesOf(path: string, content: Buffer): string[] {
  const text = content.toString('utf8');
  if (!path.endsWith('.html')) return text.split(/\r?\n/);
  return textOf(text.replace(ELEMENT_ENDS, '$&\n').replace(/<svg[\s>].*?<\/svg>/gs, ' '))
    .split('\n')
    .map((line) => line.replace(/\s+/g, ' ').trim())
    .filter((line) => line !== '');
}

/** A report that differs from the expected one, file by file; empty where they are the same, byte for byte. */
export function differencesOf(actual: Report, expected: Report): string[] {
  const paths = [...new Set([...actual.keys(), ...expected.keys()])].sort();
  return paths.flatMap((path) => {
    const [is, was] = [actual.get(path), expected.get(path)];
    if (!is) return [`${path}: expected, and not written`];
    if (!was) return [`${path}: written, and not expected`];
    if (is.equals(was)) return [];
    const changes = lineChanges(linesOf(path, was), linesOf(path, is));
    const told = changes.slice(0, MOST_TOLD);
    const more = changes.length > MOST_TOLD ? [`... and ${changes.length - MOST_TOLD} more lines`] : [];
    const where = path.endsWith('.html')
      ? 'the text is the same; markup or a drawing differs'
      : 'line ends differ';
    return [[`${path}: ${changes.length === 0 ? where : 'differs'}`, ...told, ...more].join('\n')];
  });
}

/** Writes the report that came out, and differences.txt, for a person to look at; nothing stays where there are none. */
export function writeDifferences(folder: string, actual: Report, found: readonly string[]): void {
  rmSync(folder, { recursive: true, force: true });
  if (found.length === 0) return;
  for (const [path, content] of actual) {
    mkdirSync(dirname(join(folder, 'report', path)), { recursive: true });
    writeFileSync(join(folder, 'report', path), content);
  }
  writeFileSync(join(folder, 'differences.txt'), `${found.join('\n\n')}\n`);
}
