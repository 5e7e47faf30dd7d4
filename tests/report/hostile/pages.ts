import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { pageNames } from '../../../src/pipeline/page-name.js';
import { shorten } from '../../../src/recording/problem.js';
import type { Draw } from '../../../src/report/charts/spec.js';
import type { PatientReportName } from '../../../src/report/report-name.js';
import { visibleText } from '../../../src/report/visible-text.js';
import { openChromium } from '../../support/chromium.js';
import { expectQuiet } from './check-page.js';
import { CORPUS } from './corpus.js';
import { asCell, asHeader, type HostileUnit, hostileUnit } from './hostile-unit.js';
import { type Looked, Window } from './look.js';

// All patients have the same pressures, so that most charts are drawn from the same spec: each is drawn once.
vi.mock('../../../src/report/charts/render.js', async (importOriginal) => {
  const actual = await importOriginal<typeof import('../../../src/report/charts/render.js')>();
  const drawn = new Map<string, Promise<string>>();
  const renderSvg: Draw = (spec, key) => {
    const all = JSON.stringify([key, spec]);
    const known = drawn.get(all) ?? actual.renderSvg(spec, key);
    drawn.set(all, known);
    return known;
  };
  return { ...actual, renderSvg };
});

/** So many texts stand in each field of a unit at once; and so many patients it has. */
const AT_ONCE = 16;
const PARTS = 2;

const harmless = (n: number): string[] => Array.from({ length: n }, (_, i) => `quiet ${i}`);

/** What a page has to show of a text. */
const shown = (text: string): string => visibleText(text).replace(/\s+/g, ' ').trim();

/** The message that a page holds no such text is worth more than the page. */
const expectText = (text: string, part: string, what: string): void => {
  if (!text.includes(part))
    expect.fail(`${what}: the page does not show ${JSON.stringify(part.slice(0, 200))}`);
};

/** What each of a patient's pages has to show. */
function expectPatientTexts(page: Looked, unit: HostileUnit, i: number): void {
  const id = shown(unit.texts[i]);
  expect(page.heading.startsWith(`Patient ${id}: `), id).toBe(true);
  expect(page.title.replace(/\s+/g, ' ').startsWith(`Patient ${id}: `), id).toBe(true);
  expectText(page.text, `${shown(unit.title)}. 11 February`, 'title');
  expectText(page.text, `From ${shown(shorten(unit.files[i], 999))}.`, 'file');
  expectText(page.text, `A person decided (${id}): `, 'reviewer');
}

/** What the page in detail has to show beside that. */
function expectDetailTexts(page: Looked, unit: HostileUnit, i: number): void {
  const id = shown(unit.texts[i]);
  expectText(page.text, `"${shown(unit.icp)}" read as ICP`, 'ICP column');
  for (const text of unit.texts) expectText(page.text, `"${shown(asHeader(text))}" (`, 'column left alone');
  expect(page.cells, id).toContain(id);
  expectText(
    page.text,
    `not used by any rule: "${shown(shorten(unit.texts[i]))}" (11 Feb 20:05)`,
    'care log',
  );
}

function expectUnitTexts(page: Looked, unit: HostileUnit): void {
  expect(page.heading.startsWith(`${shown(unit.title)}: `)).toBe(true);
  expect(page.title.replace(/\s+/g, ' ').startsWith(`${shown(unit.title)}: `)).toBe(true);
  for (const id of [...unit.texts, ...unit.expected]) expect(page.cells).toContain(shown(id));
  for (const id of unit.expected) expectText(page.text, shown(id), 'expected');
}

/** The pages that a report has of a patient. */
const PAGES = { morning: ['morning', 'detail'], perfusion: ['morning'] } as const;

/** One part of the corpus in every field of every page of a report, in a browser. */
export function describeHostilePages(part: number, report: PatientReportName = 'morning'): void {
  const all = Math.ceil(CORPUS.length / AT_ONCE);
  const mine = [...Array(all).keys()].filter((n) => n % PARTS === part);
  /** The one page of a patient has what elsewhere the page in detail has. */
  const hasDetails = (kind: 'morning' | 'detail'): boolean => kind === 'detail' || PAGES[report].length === 1;
  describe(`hostile text in every field of the report ${report}, part ${part + 1}`, () => {
    let browser: Browser;
    let strict: Window;
    let bare: Window;
    let quiet: Readonly<Record<string, string>>;
    beforeAll(async () => {
      browser = await openChromium();
      strict = await Window.open(browser, true);
      bare = await Window.open(browser, false);
      const unit = await hostileUnit(harmless(AT_ONCE), undefined, report);
      const index = await strict.look(join(unit.out, 'index.html'));
      const names = pageNames(asCell(unit.texts[0]));
      expectUnitTexts(index, unit);
      const skeletons: [string, string][] = [['index', index.skeleton]];
      for (const kind of PAGES[report]) {
        const page = await strict.look(join(unit.out, names[kind]));
        expectPatientTexts(page, unit, 0);
        if (hasDetails(kind)) expectDetailTexts(page, unit, 0);
        skeletons.push([kind, page.skeleton]);
      }
      quiet = Object.fromEntries(skeletons);
    });
    afterAll(() => browser?.close());

    it.each(mine)('texts %i times 16 show as text, and do nothing else', async (n) => {
      const texts = CORPUS.slice(n * AT_ONCE, (n + 1) * AT_ONCE);
      const unit = await hostileUnit([...texts, ...harmless(AT_ONCE - texts.length)], undefined, report);
      const pages = unit.texts.flatMap((id, i) =>
        PAGES[report].map((kind) => ({ kind, i, name: pageNames(asCell(id))[kind] })),
      );
      for (const { kind, i, name } of [{ kind: 'index', i: 0, name: 'index.html' } as const, ...pages]) {
        const path = join(unit.out, name);
        const what = kind === 'index' ? name : `${kind} page of ${JSON.stringify(unit.texts[i])}`;
        for (const window of [strict, bare]) {
          const page = await window.look(path);
          expectQuiet(page, what);
          if (kind === 'index') expectUnitTexts(page, unit);
          else expectPatientTexts(page, unit, i);
          if (kind !== 'index' && hasDetails(kind)) expectDetailTexts(page, unit, i);
          // As a yes or no: a difference would be printed at great length.
          expect(page.skeleton === quiet[kind], `skeleton of the ${what}`).toBe(true);
        }
        expect(await strict.overflows(), what).toEqual([]);
      }
    });
  });
}
