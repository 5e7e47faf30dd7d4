import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { newFolder } from './cistern.js';
import { sheetsOf } from './poppler.js';
import type { Printed } from './print-checks.js';
import { MARK_PAGE, type Marked } from './print-marks.js';

/** Marks a page and prints it as a person would who chooses the paper in the browser. */
export async function printMarked(browser: Browser, url: string, format: 'A4' | 'Letter'): Promise<Printed> {
  const page = await browser.newPage();
  try {
    await page.goto(url);
    await page.emulateMedia({ media: 'print' });
    const marked = (await page.evaluate(MARK_PAGE)) as Marked;
    const path = join(newFolder(), 'page.pdf');
    writeFileSync(path, await page.pdf({ format, preferCSSPageSize: false }));
    return { marked, sheets: sheetsOf(path) };
  } finally {
    await page.close();
  }
}
