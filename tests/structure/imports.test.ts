import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve, sep } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const SRC = fileURLToPath(new URL('../../src', import.meta.url));

/** From the bottom up: a file may import from its own folder and from those before it. */
const LAYERS = ['recording', 'ingest', 'clean', 'segment', 'summarize', 'report', 'pipeline', 'command-line'];

const files = readdirSync(SRC, { recursive: true, encoding: 'utf8' })
  .filter((name) => /\.tsx?$/.test(name))
  .map((name) => name.split(sep).join('/'))
  .sort();

/** Files of src that a file imports, as paths below src. */
function importsOf(file: string): string[] {
  const path = join(SRC, file);
  return ts
    .preProcessFile(readFileSync(path, 'utf8'))
    .importedFiles.map(({ fileName }) => fileName)
    .filter((name) => name.startsWith('.'))
    .map((name) =>
      relative(SRC, resolve(dirname(path), name))
        .split(sep)
        .join('/'),
    )
    .map((name) => files.find((f) => f.replace(/\.tsx?$/, '') === name.replace(/\.js$/, '')) ?? name);
}

/** -1 for `version.ts`, which anyone may import; the top for `index.ts`. */
const layerOf = (file: string): number => {
  if (file === 'version.ts') return -1;
  return file === 'index.ts' ? LAYERS.indexOf('command-line') : LAYERS.indexOf(file.split('/')[0]);
};

describe('the architecture', () => {
  it('has one folder a layer and nothing else', () => {
    const folders = [...new Set(files.filter((f) => f.includes('/')).map((f) => f.split('/')[0]))];
    expect(folders.sort()).toEqual([...LAYERS].sort());
  });

  it('imports one way only', () => {
    const upward = files.flatMap((file) =>
      importsOf(file)
        .filter((target) => layerOf(target) > layerOf(file))
        .map((target) => `${file} imports ${target}`),
    );
    expect(upward).toEqual([]);
  });

  it('has no circle of imports', () => {
    const circles: string[] = [];
    const finished = new Set<string>();
    const visit = (file: string, path: string[]): void => {
      if (path.includes(file)) circles.push([...path.slice(path.indexOf(file)), file].join(' > '));
      if (path.includes(file) || finished.has(file)) return;
      for (const target of importsOf(file)) visit(target, [...path, file]);
      finished.add(file);
    };
    for (const file of files) visit(file, []);
    expect(circles).toEqual([]);
  });

  it('keeps files that fit in the head', () => {
    const lengths = files
      .map((file) => readFileSync(join(SRC, file), 'utf8').split('\n').length)
      .sort((a, b) => a - b);
    expect(lengths[lengths.length >> 1]).toBeLessThan(100);
    expect(lengths.at(-1)).toBeLessThan(400);
  });
});
