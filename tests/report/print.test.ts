import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderPage } from '../../src/report/page/page.js';
import { openChromium } from '../support/chromium.js';
import { folderWith, ROOT } from '../support/cistern.js';
import { LABEL_FAULTS } from '../support/label-faults.js';
import { cut, feet, headless, lost, type Printed, scale } from '../support/print-checks.js';
import { printMarked } from '../support/print-marked.js';
import { itPrintsWhole } from '../support/printed-pages.js';
import { smallAudit } from '../support/small-audit.js';
import { smallStudy } from '../support/small-study.js';

const DEMO = join(ROOT, 'reports/demo');
const pages = ['.', 'validation'].flatMap((folder) =>
  readdirSync(join(DEMO, folder))
    .filter((name) => name.endsWith('.html'))
    .map((name) => join(folder, name)),
);
/** Pages that a person carries to the bedside; details and the validation may be as long as they need. */
const short = pages.filter((name) => /^(?:index|patient-\d+)\.html$/.test(name));

let browser: Browser;
beforeAll(async () => {
  browser = await openChromium();
});
afterAll(() => browser?.close());

describe.each(['A4', 'Letter'] as const)('the demo on %s', (format) => {
  const printed = new Map<string, Promise<Printed>>();
  const print = (name: string): Promise<Printed> => {
    const known = printed.get(name) ?? printMarked(browser, pathToFileURL(join(DEMO, name)).href, format);
    printed.set(name, known);
    return known;
  };

  it('is the unit, ten patients and the validation', () => {
    expect(short).toHaveLength(11);
    expect(pages).toContain(join('validation', 'index.html'));
  });

  it.each(short)('%s takes at most two sheets', async (name) => {
    const { sheets } = await print(name);
    expect(sheets.length).toBeGreaterThanOrEqual(1);
    expect(sheets.length).toBeLessThanOrEqual(2);
  });

  itPrintsWhole(pages, print, format);

  it.each(pages)('%s says at each foot what it is and which sheet of how many', async (name) => {
    const { marked, sheets } = await print(name);
    const [whom] = marked.title.split(': ');
    const found = feet({ marked, sheets });
    const running = found[0].replace(/ Page 1 of \d+$/, '');
    expect(found).toEqual(found.map((_, i) => `${running} Page ${i + 1} of ${found.length}`));
    if (name.startsWith('validation')) expect(running).toBe(marked.title);
    else if (name === 'index.html')
      expect(running).toMatch(new RegExp(`^${whom.slice(0, 10)}.*, night of 11 to 12 February 2031$`));
    else {
      const which = name.includes('_detail') ? ' in detail' : '';
      expect(running).toBe(`${whom}${which}, night of 11 to 12 February 2031`);
    }
  });
});

describe('the page of an audit', () => {
  let audit: string;
  beforeAll(async () => {
    audit = pathToFileURL(join(await smallAudit(), 'index.html')).href;
  });

  describe.each(['A4', 'Letter'] as const)('on %s', (format) => {
    let printed: Promise<Printed> | null = null;
    itPrintsWhole(
      ['index.html'],
      () => {
        printed ??= printMarked(browser, audit, format);
        return printed;
      },
      format,
    );
  });

  it.each([
    ['a desk', 1100],
    ['a phone', 360],
  ] as const)('has whole labels on %s, unfolded, and slides as a whole nowhere', async (_, width) => {
    const page = await browser.newPage({ viewport: { width, height: 800 } });
    await page.goto(audit);
    await page.evaluate(`document.querySelectorAll('details').forEach((one) => { one.open = true; })`);
    expect(await page.evaluate(LABEL_FAULTS)).toEqual([]);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(width);
    const sliding = `[...document.querySelectorAll('.scroll, .drawing')].filter((box) => box.scrollWidth > box.clientWidth + 1).length`;
    if (width === 1100) expect(await page.evaluate(sliding)).toBe(0);
    else expect(await page.evaluate(sliding)).toBeGreaterThan(10);
    // A word a line is no text: no cell of a table shows one that runs on and on.
    const narrow = `[...document.querySelectorAll('td:not(.n)')].filter((cell) => cell.textContent.length > 30 && cell.clientWidth < 100).map((cell) => cell.textContent)`;
    expect(await page.evaluate(narrow)).toEqual([]);
    await page.close();
  });
});

describe('the page of a study', () => {
  let study: string;
  beforeAll(async () => {
    study = pathToFileURL(join(await smallStudy(), 'index.html')).href;
  });

  describe.each(['A4', 'Letter'] as const)('on %s', (format) => {
    let printed: Promise<Printed> | null = null;
    itPrintsWhole(
      ['index.html'],
      () => {
        printed ??= printMarked(browser, study, format);
        return printed;
      },
      format,
    );
  });

  it.each([1100, 360])(
    'has whole labels at %i pixels, unfolded, and slides as a whole nowhere',
    async (width) => {
      const page = await browser.newPage({ viewport: { width, height: 800 } });
      await page.goto(study);
      await page.evaluate(`document.querySelectorAll('details').forEach((one) => { one.open = true; })`);
      expect(await page.evaluate(LABEL_FAULTS)).toEqual([]);
      expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(width);
      await page.close();
    },
  );
});

describe('what looks for cuts', () => {
  const print = (body: string, style = ''): Promise<Printed> => {
    const html = renderPage({ title: 'Trial', subtitle: '', running: 'Trial', children: null })
      .replace('</head>', `<style>${style}</style></head>`)
      .replace('<main></main>', `<main>${body}</main>`);
    const folder = folderWith({ 'page.html': html });
    return printMarked(browser, pathToFileURL(join(folder, 'page.html')).href, 'A4');
  };
  const rows = (n: number): string => '<tr><td>cell</td></tr>'.repeat(n);
  const table = (body: string): string =>
    `<table><thead><tr><th>A five-min head</th></tr></thead><tbody>${body}</tbody></table>`;

  it('finds nothing where nothing is cut', async () => {
    const figure = '<figure><svg width="100" height="400"></svg></figure>';
    const printed = await print(`${figure.repeat(5)}${table(rows(200))}`);
    expect(printed.sheets.length).toBeGreaterThan(2);
    expect([cut(printed), headless(printed), lost(printed)]).toEqual([[], [], []]);
    expect(feet(printed)[1]).toBe(`Trial Page 2 of ${printed.sheets.length}`);
  });

  it('finds a figure that goes over two sheets', async () => {
    const tall = '<figure>tall<div style="height: 1200px"></div></figure>';
    expect(
      cut(await print(`<figure>fits</figure>${tall}`, 'figure { break-inside: auto !important }')),
    ).toEqual(['figure tall']);
  });

  it('finds a row that goes over two sheets', async () => {
    const tall = `<tr><td>tall<div style="height: 1200px"></div></td></tr>`;
    const printed = await print(table(`${rows(5)}${tall}`), 'tr { break-inside: auto !important }');
    expect(cut(printed)).toEqual(['tr tall']);
  });

  it('finds a head that is not repeated', async () => {
    const printed = await print(table(rows(130)), 'thead { display: table-row-group !important }');
    expect(headless(printed)).toEqual(
      printed.sheets.slice(1).map((_, i) => `A five-min head, sheet ${i + 2}`),
    );
  });

  it('finds a word that an edge cuts', async () => {
    expect(lost(await print('<p style="margin-left: -1em">word</p>'))).toEqual(['word']);
  });

  it('finds a page that is too wide for its paper', async () => {
    expect(scale(await print('<div style="width: 900px">word</div>'))).toBeLessThan(0.9);
    expect(scale(await print('<p>word</p>'))).toBeCloseTo(1, 2);
  });
});
