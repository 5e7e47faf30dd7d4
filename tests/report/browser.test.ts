import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openChromium } from '../support/chromium.js';
import { ROOT } from '../support/cistern.js';

const DEMO = join(ROOT, 'reports/demo');
const pages = readdirSync(DEMO).filter((name) => name.endsWith('.html'));

describe('the demo in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openChromium();
  });
  afterAll(() => browser?.close());

  it.each(pages)('%s opens without a complaint, a request or a script, and fits the window', async (name) => {
    const page = await browser.newPage({ viewport: { width: 1100, height: 900 } });
    const said: string[] = [];
    const asked: string[] = [];
    page.on('console', (message) => said.push(message.text()));
    page.on('pageerror', (error) => said.push(String(error)));
    page.on('request', (request) => asked.push(request.url()));
    const url = pathToFileURL(join(DEMO, name)).href;
    await page.goto(url);
    expect(said).toEqual([]);
    expect(asked).toEqual([url]);
    expect(await page.locator('script').count()).toBe(0);
    expect(await page.evaluate('document.documentElement.scrollWidth <= innerWidth')).toBe(true);
    const clipped = await page.evaluate(
      `[...document.querySelectorAll('.scroll')].filter((box) => box.scrollWidth > box.clientWidth + 1).length`,
    );
    expect(clipped).toBe(0);
    await page.close();
  });

  it.each(['Helvetica', 'DejaVu Sans'])(
    'has no table and no name in a chart cut off at 1000 pixels and on paper, in %s',
    async (font) => {
      const page = await browser.newPage({ viewport: { width: 1000, height: 900 } });
      for (const media of ['screen', 'print'] as const) {
        await page.emulateMedia({ media });
        await page.setViewportSize({ width: media === 'screen' ? 1000 : 703, height: 900 });
        for (const name of pages) {
          await page.goto(pathToFileURL(join(DEMO, name)).href);
          await page.addStyleTag({ content: `* { font-family: '${font}', sans-serif !important; }` });
          const cut = await page.evaluate(
            `[...[...document.querySelectorAll('.scroll')].filter((box) => box.scrollWidth > box.clientWidth + 1).map((box) => box.textContent), ...[...document.querySelectorAll('figure svg text')].filter((text) => text.getBoundingClientRect().left < text.ownerSVGElement.getBoundingClientRect().left - 1).map((text) => text.textContent)]`,
          );
          expect(cut, `${name} ${media}`).toEqual([]);
        }
      }
      await page.close();
    },
    60_000,
  );

  it('leads from the unit to each patient and back', async () => {
    const page = await browser.newPage();
    await page.goto(pathToFileURL(join(DEMO, 'index.html')).href);
    const links = page.locator('tbody th a');
    expect(await links.count()).toBe(10);
    await page.getByRole('link', { name: '103', exact: true }).click();
    expect(await page.locator('h1').textContent()).toContain('Patient 103');
    await page.getByRole('link', { name: 'All patients' }).click();
    expect(await page.locator('h1').textContent()).toContain('Lantern Bay');
    await page.close();
  });
});
