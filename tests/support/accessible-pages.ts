import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openChromium } from './chromium.js';

const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** A desk, a window of 1280 pixels at 200 % zoom, and a phone. */
const WIDTHS = [1100, 640, 360];

interface Found {
  readonly rule: string;
  readonly where: readonly string[];
}

/** What axe-core, which the page has loaded, finds with all of its rules, those of good practice too. */
async function violations(page: Page): Promise<Found[]> {
  // Of what it passes nothing is needed, and to hand thousands of cells over takes longer than to look at them.
  return (await page.evaluate(`axe.run(document, { resultTypes: ['violations'] }).then(({ violations }) =>
    violations.map(({ id, nodes }) => ({ rule: id, where: nodes.map(({ target }) => target.join(' ')) })))`)) as Found[];
}

/**
 * Looks at pages as those do who cannot see or point.
 *
 * @param pages their names
 * @param folder where they are once the tests run
 * @param widths of windows in which axe-core looks at them, pixels
 */
export function describeAccessible(
  what: string,
  pages: readonly string[],
  folder: () => string,
  widths: readonly number[] = WIDTHS,
): void {
  describe(what, () => {
    let browser: Browser;
    beforeAll(async () => {
      browser = await openChromium();
    });
    afterAll(() => browser?.close());

    const opened = async (name: string, width: number): Promise<Page> => {
      const page = await browser.newPage({ viewport: { width, height: 800 } });
      await page.goto(pathToFileURL(join(folder(), name)).href);
      return page;
    };

    it.each(pages)(
      '%s: axe-core finds nothing, folded or not, and nothing is wider than the window',
      async (name) => {
        for (const width of widths) {
          const page = await opened(name, width);
          await page.evaluate(AXE);
          for (const isOpen of [false, true]) {
            await page.evaluate(
              `document.querySelectorAll('details').forEach((one) => { one.open = ${isOpen}; })`,
            );
            expect(await violations(page), `${width} px`).toEqual([]);
            expect(
              await page.evaluate('document.documentElement.scrollWidth'),
              `${width} px`,
            ).toBeLessThanOrEqual(width);
          }
          await page.close();
        }
      },
    );

    it.each(pages)('%s has its headings in order, and a text for each drawing', async (name) => {
      const page = await opened(name, 1100);
      const levels = (await page.evaluate(
        `[...document.querySelectorAll('h1, h2, h3, h4, h5, h6')].map((head) => Number(head.tagName[1]))`,
      )) as number[];
      expect(levels[0]).toBe(1);
      expect(levels.filter((level) => level === 1)).toHaveLength(1);
      levels.forEach((level, i) => {
        if (i > 0) expect(level - levels[i - 1]).toBeLessThanOrEqual(1);
      });
      const silent = await page.evaluate(
        `[...document.querySelectorAll('svg')].filter((svg) => svg.getAttribute('role') !== 'img' || (svg.getAttribute('aria-label') ?? '').length < 20).length`,
      );
      expect(silent).toBe(0);
      await page.close();
    });

    it.each(pages)(
      '%s is gone through by keyboard from top to bottom, and shows where one is',
      async (name) => {
        const page = await opened(name, 360);
        const stops = (await page.evaluate(`document.querySelectorAll('a[href], summary').length`)) as number;
        let top = Number.NEGATIVE_INFINITY;
        for (let i = 0; i < stops; i++) {
          await page.keyboard.press('Tab');
          const at = (await page.evaluate(`(() => {
        const one = document.activeElement;
        const { outlineStyle, outlineWidth } = getComputedStyle(one);
        return { tag: one.tagName, top: one.getBoundingClientRect().top + scrollY, outline: outlineStyle + ' ' + outlineWidth };
      })()`)) as { tag: string; top: number; outline: string };
          expect(['A', 'SUMMARY', 'DIV']).toContain(at.tag);
          expect(at.top).toBeGreaterThanOrEqual(top - 1);
          expect(at.outline).toBe('solid 3px');
          top = at.top;
        }
        await page.close();
      },
    );
  });
}
