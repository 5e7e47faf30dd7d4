/**
 * How large the pages of the demo are, and how long a browser takes to paint them: `npm run bench:pages`. Prints figures
 * and judges nothing; each page is opened afresh, in turn with an empty page that stands for the browser itself.
 */
import { mkdtempSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { openChromium } from '../support/chromium.js';

const DEMO = fileURLToPath(new URL('../../reports/demo', import.meta.url));
const RUNS = 7;

const median = (values: readonly number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1];

/** Milliseconds from the start of the navigation to the first paint of any content. */
async function paintMs(browser: Browser, path: string): Promise<number> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await page.goto(pathToFileURL(path).href);
  const ms = await page.evaluate(`new Promise((resolve) => {
    new PerformanceObserver((list) => {
      const found = list.getEntriesByName('first-contentful-paint')[0];
      if (found) resolve(found.startTime);
    }).observe({ type: 'paint', buffered: true });
  })`);
  await page.close();
  return ms as number;
}

const folder = mkdtempSync(join(tmpdir(), 'cistern-bench-'));
const empty = join(folder, 'empty.html');
writeFileSync(empty, '<!doctype html><html lang="en"><title>empty</title><p>empty</p></html>');
const browser = await openChromium();
try {
  const pages = ['.', 'validation'].flatMap((sub) =>
    readdirSync(join(DEMO, sub))
      .filter((name) => name.endsWith('.html'))
      .map((name) => join(sub, name)),
  );
  await paintMs(browser, empty);
  console.log(`${'page'.padEnd(28)}${'kB'.padStart(6)}${'paint, ms'.padStart(11)}${'to empty'.padStart(10)}`);
  for (const name of pages) {
    const times = { page: [] as number[], empty: [] as number[] };
    for (let run = 0; run < RUNS; run++) {
      times.page.push(await paintMs(browser, join(DEMO, name)));
      times.empty.push(await paintMs(browser, empty));
    }
    const [ms, emptyMs] = [median(times.page), median(times.empty)];
    const kB = statSync(join(DEMO, name)).size / 1000;
    console.log(
      `${name.padEnd(28)}${kB.toFixed(0).padStart(6)}${ms.toFixed(0).padStart(11)}${`${(ms / emptyMs).toFixed(1)} x`.padStart(10)}`,
    );
  }
  const morning = pages.filter((name) => /^(?:index|patient-\d+)\.html$/.test(name));
  const mB = morning.reduce((sum, name) => sum + statSync(join(DEMO, name)).size, 0) / 1e6;
  console.log(`The unit page and ${morning.length - 1} morning pages: ${mB.toFixed(2)} MB.`);
} finally {
  await browser.close();
  rmSync(folder, { recursive: true, force: true });
}
