import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { cistern, newFolder, ROOT } from '../support/cistern.js';
import { filesBelow } from '../support/compare-folders.js';
import { differencesOf, writeDifferences } from './differences.js';
import {
  caseNames,
  DIFFERENCES,
  expectedOf,
  pipelineOf,
  type Report,
  reportIn,
  runCase,
} from './golden-case.js';
import { lineChanges } from './line-changes.js';
import { CASES } from './make/cases.js';

/** Fails where a report is not the expected one, byte for byte, and says where to look and how to accept it. */
function expectGolden(name: string, folder: string): void {
  const actual = reportIn(folder);
  const found = differencesOf(actual, expectedOf(name));
  writeDifferences(join(DIFFERENCES, name), actual, found);
  const files = found.map((difference) => difference.split('\n')[0]);
  expect(
    files,
    `${name} differs: look at tests/golden/differences/${name}/differences.txt and the report beside it; npm run golden -- --accept ${name} takes it as it is`,
  ).toEqual([]);
}

describe('the golden cases', () => {
  it('have their files as the generator writes them', () => {
    expect(caseNames()).toEqual(Object.keys(CASES).sort());
    for (const [name, make] of Object.entries(CASES)) {
      const folder = dirname(pipelineOf(name));
      const files = make();
      const stored = filesBelow(folder).filter((path) => !path.startsWith('expected'));
      expect(stored).toEqual(Object.keys(files).sort());
      for (const path of stored) {
        const [is, made] = [readFileSync(join(folder, path)), Buffer.from(files[path])];
        // What packs them may differ from one version to the next; what is in them may not.
        const isSame = path.endsWith('.gz') ? gunzipSync(is).equals(gunzipSync(made)) : is.equals(made);
        expect(isSame, `${name}/${path}: npx tsx tests/golden/generate.ts writes it anew`).toBe(true);
      }
    }
  });

  it.each(caseNames())('%s comes out byte for byte, read anew and from the store', async (name) => {
    const out = join(newFolder(), name);
    const first = await runCase(name, out);
    expectGolden(name, out);
    const written = reportIn(out);
    const again = await runCase(name, out);
    expect(differencesOf(reportIn(out), written)).toEqual([]);
    expect(first.patients.reused).toBe(0);
    expect(again.patients).toEqual({ done: 0, reused: first.patients.done });
  });

  it.each(['crowded-page', 'thirty-patients'])('%s comes out of two threads byte for byte', (name) => {
    const out = join(newFolder(), name);
    const { status } = cistern(['run', pipelineOf(name), '--out', out, '--threads', '2']);
    // Two of the thirty cannot be read.
    expect(status).toBe(name === 'thirty-patients' ? 1 : 0);
    expectGolden(name, out);
  });

  it('are small enough to be kept', () => {
    const folder = join(ROOT, 'tests/golden/cases');
    const bytes = filesBelow(folder).map((path) => readFileSync(join(folder, path)).length);
    expect(bytes.reduce((sum, one) => sum + one, 0)).toBeLessThan(2_500_000);
  });
});

describe('what tells of differences', () => {
  const report = (files: Record<string, string>): Report =>
    new Map(Object.entries(files).map(([path, text]) => [path, Buffer.from(text)]));

  it('names files that are missing, new or changed, and the words of a page that changed', () => {
    const page = (word: string, shape = 'M0,0'): string =>
      `<html><body><p>ICP ${word}</p><svg><path d="${shape}"/><text>in the drawing</text></svg><p>end</p></body></html>`;
    const expected = report({
      'a.html': page('low'),
      'b.html': page('low'),
      'c.csv': 'a\nb\n',
      d: '',
      same: 'x',
    });
    const actual = report({
      'a.html': page('high'),
      'b.html': page('low', 'M1,1'),
      'c.csv': 'a\r\nb\r\n',
      e: '',
      same: 'x',
    });
    expect(differencesOf(actual, expected)).toEqual([
      'a.html: differs\n- ICP low\n+ ICP high',
      'b.html: the text is the same; markup or a drawing differs',
      'c.csv: line ends differ',
      'd: expected, and not written',
      'e: written, and not expected',
    ]);
    expect(differencesOf(expected, expected)).toEqual([]);
  });

  it('writes what came out beside the words, and takes them away once nothing differs', () => {
    const folder = join(newFolder(), 'case');
    mkdirSync(folder);
    writeFileSync(join(folder, 'old'), '');
    writeDifferences(folder, report({ 'tables/a.csv': '1' }), ['tables/a.csv: differs\n- 0\n+ 1', 'b: new']);
    expect(filesBelow(folder)).toEqual(['differences.txt', 'report/tables/a.csv']);
    expect(readFileSync(join(folder, 'differences.txt'), 'utf8')).toBe(
      'tables/a.csv: differs\n- 0\n+ 1\n\nb: new\n',
    );
    writeDifferences(folder, report({}), []);
    expect(() => filesBelow(folder)).toThrow('ENOENT');
  });

  it('keeps lines that stay and tells the others in order', () => {
    expect(lineChanges(['a', 'b', 'c', 'd'], ['a', 'x', 'c', 'd', 'e'])).toEqual(['- b', '+ x', '+ e']);
    expect(lineChanges(['a', 'a'], ['a'])).toEqual(['- a']);
    expect(lineChanges([], ['a'])).toEqual(['+ a']);
    expect(lineChanges(['a', 'b'], ['a', 'b'])).toEqual([]);
  });
});
