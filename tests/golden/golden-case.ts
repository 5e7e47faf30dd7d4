import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { type RunOutcome, runPipeline } from '../../src/pipeline/run-pipeline.js';
import { STYLE } from '../../src/report/page/style.js';
import { ROOT } from '../support/cistern.js';
import { filesBelow } from '../support/compare-folders.js';
import { packed } from './make/series.js';

const CASES = join(ROOT, 'tests/golden/cases');

/** Not tracked: what came out instead, for review. */
export const DIFFERENCES = join(ROOT, 'tests/golden/differences');

/** Larger files of a report are kept packed, since a page in detail may take half a megabyte. */
const MOST_PLAIN = 24_000;

/** The golden cases, a folder each. */
export const caseNames = (): string[] => readdirSync(CASES).sort();

/** The pipeline file of a case. */
export const pipelineOf = (name: string): string => join(CASES, name, 'unit.yaml');

/** Runs a case in this process into a folder; the next run into it takes what it can from the store. */
export const runCase = (name: string, out: string): Promise<RunOutcome> =>
  runPipeline(pipelineOf(name), { out, threads: 1 });

/** A report: its files by their paths. */
export type Report = ReadonlyMap<string, Buffer>;

/** A report as it was written, but for run.json, which tells the time. */
export const reportIn = (folder: string): Report =>
  new Map(
    filesBelow(folder)
      .filter((path) => path !== 'run.json')
      .map((path) => [path, readFileSync(join(folder, path))]),
  );

/** Stands for the style sheet in what is kept: it is the same in all pages, and the demo holds it byte for byte. */
const STYLE_PLACE = '/* src/report/page/style.ts */';

const exchanged = (path: string, content: Buffer, from: string, to: string): Buffer =>
  path.endsWith('.html') ? Buffer.from(content.toString('utf8').replace(from, () => to)) : content;

const expectedFolder = (name: string): string => join(CASES, name, 'expected');

/** The report that is expected of a case, unpacked; empty where none has been accepted yet. */
export function expectedOf(name: string): Report {
  const folder = expectedFolder(name);
  if (!existsSync(folder)) return new Map();
  return new Map(
    filesBelow(folder).map((path): [string, Buffer] => {
      const stored = readFileSync(join(folder, path));
      const [name, content] = path.endsWith('.gz') ? [path.slice(0, -3), gunzipSync(stored)] : [path, stored];
      return [name, exchanged(name, content, STYLE_PLACE, STYLE)];
    }),
  );
}

/** Puts a report in the place of the one that was expected; files that stay as they are keep their bytes, packed too. */
export function accept(name: string, report: Report): void {
  const folder = expectedFolder(name);
  const before = expectedOf(name);
  for (const path of before.keys())
    if (!report.get(path)?.equals(before.get(path)!))
      for (const kept of [path, `${path}.gz`]) rmSync(join(folder, kept), { force: true });
  for (const [path, content] of report) {
    if (before.get(path)?.equals(content)) continue;
    const kept = exchanged(path, content, STYLE, STYLE_PLACE);
    const isLarge = kept.length > MOST_PLAIN;
    const target = join(folder, isLarge ? `${path}.gz` : path);
    mkdirSync(dirname(target), { recursive: true });
    writeFileSync(target, isLarge ? packed(kept) : kept);
  }
}
