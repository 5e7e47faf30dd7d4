import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runPipeline } from '../../../src/pipeline/run-pipeline.js';
import type { UnitResults } from '../../../src/report/results-schema.js';
import { visibleText } from '../../../src/report/visible-text.js';
import { openChromium } from '../../support/chromium.js';
import { folderWith } from '../../support/cistern.js';
import { expectQuiet } from './check-page.js';
import { CORPUS, PIPELINE_ONLY } from './corpus.js';
import { fileName } from './hostile-unit.js';
import { type Looked, Window } from './look.js';

const quoted = (text: string): string => `"${text.replaceAll('"', '""')}"`;
const shown = (text: string): string => visibleText(text).replace(/\s+/g, ' ').trim();

/** A unit of which nothing can be read: each file has the text in its name, and as the unit of ICP. */
async function unreadable(texts: readonly string[], inPipeline: readonly string[]): Promise<Ran> {
  const exports = texts.map((text, i): [string, string] => [
    `exports/${fileName(text, i)}`,
    `Time,${quoted(`ICP (${text})`)}\n2031-02-11 20:00:00,12\n2031-02-11 20:01:00,13\n`,
  ]);
  const strangers = texts.map((text) => `${quoted(text)},2031-02-11 20:00,turned\n`);
  const folder = folderWith({
    ...Object.fromEntries(exports),
    'care.csv': `Patient,Start,Event\n${strangers.join('')}`,
    // JSON is YAML, and YAML has escapes for what JSON has.
    'unit.yaml': JSON.stringify({
      title: inPipeline.join(' '),
      expected: inPipeline.map((text) => `${text} expected`),
      exports: 'exports',
      timezone: 'Europe/Oslo',
      care: 'care.csv',
      report: 'morning',
    }),
  });
  const out = join(folder, 'report');
  const { unit } = await runPipeline(join(folder, 'unit.yaml'), { out, threads: 1 });
  return { path: join(out, 'index.html'), unit };
}

interface Ran {
  readonly path: string;
  readonly unit: UnitResults;
}

describe('hostile text in what says why nothing was read', () => {
  let browser: Browser;
  let hostile: Ran;
  let harmless: Ran;
  beforeAll(async () => {
    browser = await openChromium();
    hostile = await unreadable(CORPUS, PIPELINE_ONLY);
    harmless = await unreadable(
      CORPUS.map((_, i) => `furlongs ${i}`),
      PIPELINE_ONLY.map((_, i) => `quiet ${i}`),
    );
  });
  afterAll(() => browser?.close());

  it('fails each file, with a message that quotes it', () => {
    expect(hostile.unit.failed).toHaveLength(CORPUS.length);
    expect(harmless.unit.failed).toHaveLength(CORPUS.length);
    expect(hostile.unit.failed.filter(({ why }) => why.includes('alert(1)')).length).toBeGreaterThan(80);
  });

  it.each([true, false])('shows as text, and does nothing else (policy obeyed: %s)', async (obeysPolicy) => {
    const window = await Window.open(browser, obeysPolicy);
    const plain = await window.look(harmless.path);
    const page: Looked = await window.look(hostile.path);
    expectQuiet(page, 'index.html');
    // As a yes or no: a difference would be printed at great length.
    expect(page.skeleton === plain.skeleton).toBe(true);
    expect(page.heading.startsWith(`${shown(PIPELINE_ONLY.join(' '))}: `)).toBe(true);
    for (const { id, why } of hostile.unit.failed) {
      expect(page.cells).toContain(shown(id));
      expect(page.cells).toContain(`Cannot say: ${shown(why)}`);
    }
    for (const text of PIPELINE_ONLY) expect(page.cells).toContain(shown(`${text} expected`));
    for (const warning of hostile.unit.logs.flatMap(({ warnings }) => warnings))
      expect(page.text).toContain(shown(warning));
    expect(await window.overflows()).toEqual([]);
  });
});
