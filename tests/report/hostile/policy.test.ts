import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parse } from 'parse5';
import type { Browser, BrowserContext } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openChromium } from '../../support/chromium.js';
import { newFolder, ROOT } from '../../support/cistern.js';
import { hostileUnit } from './hostile-unit.js';

const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";
/** As a page writes it. */
const META = `<meta http-equiv="Content-Security-Policy" content="${POLICY}"/>`;

/** A picture of one point, in the page itself. */
const DOT = 'data:image/gif;base64,R0lGODlhAQABAAAAACH5BAEKAAEALAAAAAABAAEAAAICTAEAOw==';

describe('the policy of a page', () => {
  let browser: Browser;
  let context: BrowserContext;
  let server: Server;
  let address: string;
  let asked: string[] = [];
  let out: string;
  beforeAll(async () => {
    browser = await openChromium();
    context = await browser.newContext();
    server = createServer(({ url }, answer) => {
      asked.push(url ?? '');
      answer.writeHead(200, { 'access-control-allow-origin': '*' }).end('window.ran = "from outside";');
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    address = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
    out = (await hostileUnit(['one', 'two'])).out;
  });
  afterAll(async () => {
    await browser?.close();
    server?.close();
  });

  it('stands in every page before anything else that could ask for something, and is just this', () => {
    const folders = [out, join(ROOT, 'reports/demo')];
    const pages = folders.flatMap((folder) =>
      readdirSync(folder)
        .filter((name) => name.endsWith('.html'))
        .map((name) => join(folder, name)),
    );
    expect(pages.length).toBeGreaterThan(10);
    for (const page of pages) {
      const html = readFileSync(page, 'utf8');
      expect(html.split(META)).toHaveLength(2);
      expect(html.match(/http-equiv/gi)).toHaveLength(1);
      const [, document] = parse(html).childNodes;
      const [head] = 'childNodes' in document ? document.childNodes : [];
      const [charset, policy] = 'childNodes' in head ? head.childNodes : [];
      expect('attrs' in charset && charset.attrs).toEqual([{ name: 'charset', value: 'utf-8' }]);
      expect('attrs' in policy && policy.attrs).toEqual([
        { name: 'http-equiv', value: 'Content-Security-Policy' },
        { name: 'content', value: POLICY },
      ]);
    }
  });

  /** Opens a copy of a page with more in it; tells what ran, what was asked for and whether it was complained of. */
  async function withMore(
    more: string,
    isWithPolicy: boolean,
  ): Promise<{ ran: unknown; asked: string[]; refused: boolean; pictures: number[] }> {
    const html = readFileSync(join(out, 'index.html'), 'utf8');
    const changed = (isWithPolicy ? html : html.replace(META, '')).replace('</main>', () => `${more}</main>`);
    const path = join(newFolder(), 'index.html');
    writeFileSync(path, changed);
    asked = [];
    const page = await context.newPage();
    let refused = false;
    page.on('console', (message) => {
      refused ||= message.text().includes('Content Security Policy');
    });
    await page.goto(pathToFileURL(path).href, { waitUntil: 'load' });
    // What was let through needs a moment to arrive.
    await page.waitForTimeout(150);
    const ran = await page.evaluate('window.ran ?? null').catch(() => 'the page is gone');
    const pictures = (await page
      .evaluate('[...document.images].map((image) => image.naturalWidth)')
      .catch(() => [])) as number[];
    await page.close();
    return { ran, asked: [...asked], refused, pictures };
  }

  const attempts: [string, () => string][] = [
    ['a script in the page', () => '<script>window.ran = "inline";</script>'],
    ['a script from elsewhere', () => `<script src="${address}/a.js"></script>`],
    ['a handler', () => '<img src="x" onerror="window.ran = \'handler\'">'],
    ['a script that fetches', () => `<script>window.ran = 'fetch'; fetch("${address}/b")</script>`],
    ['a picture', () => `<img src="${address}/c.png">`],
    ['a style sheet', () => `<link rel="stylesheet" href="${address}/d.css">`],
    ['a picture in a style', () => `<p style="background: url(${address}/e.png)">x</p>`],
    ['an import in a style', () => `<style>@import "${address}/f.css";</style>`],
    ['a frame', () => `<iframe src="${address}/g"></iframe>`],
    ['a frame with a script', () => '<iframe srcdoc="<script>parent.ran = 1</script>"></iframe>'],
    ['an object', () => `<object data="${address}/h"></object>`],
    ['a drawing from elsewhere', () => `<svg><image href="${address}/i.png" width="9" height="9"/></svg>`],
    ['a film', () => `<video src="${address}/j.mp4" autoplay></video>`],
    ['a base for addresses', () => `<base href="${address}/"><img src="k.png"><script src="l.js"></script>`],
  ];

  it.each(attempts)('stops %s, which would do something without it', async (_, more) => {
    expect(await withMore(more(), true)).toMatchObject({ ran: null, asked: [], refused: true });
    const without = await withMore(more(), false);
    expect(without.refused).toBe(false);
    expect(without.ran !== null || without.asked.length > 0).toBe(true);
  });

  it.each([true, false])('stops a form that is sent (policy in the page: %s)', async (isWithPolicy) => {
    const html = readFileSync(join(out, 'index.html'), 'utf8');
    const form = `<form action="${address}/m"><input name="a"></form>`;
    const path = join(newFolder(), 'index.html');
    writeFileSync(
      path,
      (isWithPolicy ? html : html.replace(META, '')).replace('</main>', () => `${form}</main>`),
    );
    asked = [];
    const page = await context.newPage();
    await page.goto(pathToFileURL(path).href);
    await page.evaluate('document.forms[0].requestSubmit()');
    await page.waitForTimeout(300);
    expect(asked.some((url) => url.startsWith('/m'))).toBe(!isWithPolicy);
    await page.close();
  });

  it('lets the page have its own style, and pictures that are inside it', async () => {
    const { pictures, refused } = await withMore(`<p style="color: red">x</p><img src="${DOT}">`, true);
    expect({ pictures, refused }).toEqual({ pictures: [1], refused: false });
  });
});
