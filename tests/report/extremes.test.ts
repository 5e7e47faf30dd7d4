import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runPipeline } from '../../src/pipeline/run-pipeline.js';
import { MOST_LINES } from '../../src/report/handover.js';
import { caseNames, expectedOf, type Report, reportIn } from '../golden/golden-case.js';
import { exportOf } from '../golden/make/series.js';
import { openChromium } from '../support/chromium.js';
import { folderWith, newFolder } from '../support/cistern.js';
import { cut, lost } from '../support/print-checks.js';
import { printMarked } from '../support/print-marked.js';

const MOST_MORNING = 400_000;
/** Sheets. */
const MOST_AUDIT = 10;
const MOST_DETAIL = 2_000_000;
/** A unit of twelve: what a person sends or opens at once. */
const MOST_TWELVE = 5_000_000;

/** A page for a meeting, as long as it needs to be, and nothing that is handed over. */
const isAudit = (name: string): boolean => name === 'alarm-audit';

const isDetail = (path: string): boolean => path.endsWith('_detail.html');
const isMorning = (path: string): boolean => path.endsWith('.html') && !isDetail(path);

/** A channel that comes and goes every few seconds all night: 3 rows with values, then 5 without, every 8 s. */
async function chattering(): Promise<Report> {
  const text = exportOf({
    id: '141',
    zone: 'Europe/Oslo',
    start: '2031-04-01T19:00:00+02:00',
    hours: 12,
    everySeconds: 1,
    icp: { level: 13, bumps: [{ at: 300, minutes: 40, mmHg: 16 }] },
    map: { level: 82 },
  });
  const lines = text.split('\n').map((line, i) => (i === 0 || i % 8 < 3 ? line : line.replace(/,.*/, ',,')));
  const folder = folderWith({
    'unit.yaml': 'exports: exports\ntimezone: Europe/Oslo\nreport: morning\n',
    'exports/141.csv': lines.join('\n'),
  });
  const out = join(folder, 'report');
  const { results } = await runPipeline(join(folder, 'unit.yaml'), { out, threads: 1 });
  const [{ monitoredHours, removed }] = results.recordings;
  // What it is for: thousands of stretches, none of them joined to the next.
  expect(monitoredHours.icp).toBeGreaterThan(1.5);
  expect(monitoredHours.icp).toBeLessThan(4.5);
  expect(removed.length).toBeGreaterThan(5000);
  return reportIn(out);
}

const reports = new Map<string, Report>(caseNames().map((name) => [name, expectedOf(name)]));
const NAMES = [...caseNames(), 'chattering'];

const pagesOf = (name: string): string[] =>
  [...(reports.get(name)?.keys() ?? [])].filter((path) => path.endsWith('.html'));
const bytes = (name: string, path: string): number => reports.get(name)?.get(path)?.length ?? 0;

const root = newFolder();
const urlOf = (name: string, path: string): string => pathToFileURL(join(root, name, path)).href;

/** Run in a page: texts that leave their drawing, or stand on each other by more than a pixel. */
const FAULTS = `[...document.querySelectorAll('svg')].flatMap((svg) => {
  const box = svg.getBoundingClientRect();
  if (box.width === 0) return [];
  const texts = [...svg.querySelectorAll('text')].map((text) => ({ says: text.textContent, box: text.getBoundingClientRect() }));
  const out = texts.filter((one) => one.box.left < box.left - 1 || one.box.right > box.right + 1 || one.box.top < box.top - 1 || one.box.bottom > box.bottom + 1);
  const on = texts.flatMap((a, i) => texts.slice(i + 1).filter((b) => Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left) > 1 && Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top) > 1).map((b) => a.says + ' on ' + b.says));
  return [...out.map(({ says }) => 'outside: ' + says), ...on];
})`;

const OVERFLOW = `({
  document: Math.max(0, document.documentElement.scrollWidth - innerWidth),
  tables: innerWidth < 900 ? [] : [...document.querySelectorAll('.scroll')].filter((box) => box.scrollWidth > box.clientWidth + 1).map((box) => box.textContent.slice(0, 60)),
})`;

let browser: Browser;
let page: Page;
beforeAll(async () => {
  reports.set('chattering', await chattering());
  for (const [name, report] of reports) {
    mkdirSync(join(root, name), { recursive: true });
    for (const path of pagesOf(name)) writeFileSync(join(root, name, path), report.get(path)!);
  }
  browser = await openChromium();
  page = await browser.newPage();
});
afterAll(() => browser?.close());

/** Of thirty alike, the ones that differ: every page of the other cases. */
const looked = (name: string): string[] =>
  pagesOf(name).filter(
    (path) => name !== 'thirty-patients' || /index|patient-(?:1|2|6|10|17)[._]/.test(path),
  );

describe.each(NAMES)('%s', (name) => {
  it.each(['A4', 'Letter'] as const)(
    'takes two sheets of %s a morning page, an audit more, and nothing is cut',
    async (format) => {
      const pages = looked(name).filter(isMorning);
      expect(pages).toContain('index.html');
      for (const path of pages) {
        const printed = await printMarked(browser, urlOf(name, path), format);
        const most = name === 'thirty-patients' && path === 'index.html' ? 3 : 2;
        expect(printed.sheets.length, path).toBeLessThanOrEqual(isAudit(name) ? MOST_AUDIT : most);
        expect([cut(printed), lost(printed)], path).toEqual([[], []]);
      }
    },
    120_000,
  );

  it('fits windows of 1000 and 360 pixels, with whole labels apart from each other', async () => {
    for (const path of looked(name)) {
      for (const width of [1000, 360]) {
        await page.setViewportSize({ width, height: 900 });
        await page.goto(urlOf(name, path));
        expect(await page.evaluate(OVERFLOW), `${path} at ${width}`).toEqual({ document: 0, tables: [] });
        if (width === 1000) {
          await page.addStyleTag({ content: `svg, svg * { font-family: Helvetica !important; }` });
          expect(await page.evaluate(FAULTS), path).toEqual([]);
        }
      }
    }
  }, 120_000);

  it('stays within the sizes of pages', () => {
    for (const path of pagesOf(name))
      expect(bytes(name, path), path).toBeLessThanOrEqual(isDetail(path) ? MOST_DETAIL : MOST_MORNING);
    const mornings = pagesOf(name).filter((path) => isMorning(path) && path !== 'index.html');
    if (mornings.length === 0) return;
    const mean = mornings.reduce((sum, path) => sum + bytes(name, path), 0) / mornings.length;
    expect(12 * mean + bytes(name, 'index.html')).toBeLessThan(MOST_TWELVE);
  });

  it('hands over in few lines, each paragraph with its time, what is known and what to do', () => {
    if (isAudit(name)) return expect(reports.get(name)?.has('handover.txt')).toBe(false);
    const text = reports.get(name)?.get('handover.txt')?.toString('utf8') ?? '';
    const [head, ...paragraphs] = text.trimEnd().split('\n\n');
    expect(head.split('\n')).toHaveLength(2);
    const results = JSON.parse(reports.get(name)?.get('results.json')?.toString('utf8') ?? '{}');
    expect(paragraphs).toHaveLength(results.unit.order.length);
    for (const paragraph of paragraphs) {
      const lines = paragraph.split('\n');
      expect(lines.length).toBeLessThanOrEqual(MOST_LINES);
      expect(lines.filter((line) => line.trim() === '')).toEqual([]);
      expect(lines.at(-1)).toContain('Verify at the bedside');
      if (/: (?:no data|exports not read)$/.test(lines[0])) {
        expect(lines[1]).toMatch(/^Cannot say: .+\.$/);
        continue;
      }
      expect(lines[0]).toMatch(
        /^Patient .+, \d+ \w+ 2031 \d\d:\d\d to (?:\d+ \w+ (?:2031 )?)?\d\d:\d\d \(Europe\/Oslo\)$/,
      );
      expect(lines[1]).toMatch(/^ICP known for (?:[<>] )?\d+ % of this time/);
    }
  });
});

it('finds what would be at fault', async () => {
  await page.setViewportSize({ width: 360, height: 900 });
  await page.setContent(
    '<svg width="500" height="30"><text x="5" y="15">one</text><text x="15" y="15">two</text><text x="490" y="15">three</text></svg>',
  );
  expect(await page.evaluate(FAULTS)).toEqual(['outside: three', 'one on two']);
  expect(await page.evaluate(OVERFLOW)).toMatchObject({ document: expect.any(Number) });
  expect(((await page.evaluate(OVERFLOW)) as { document: number }).document).toBeGreaterThan(100);
});
