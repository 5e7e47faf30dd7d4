import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';

/** A page as a browser shows it. */
export interface Looked {
  /** Dialogs, complaints and requests other than for the page itself; empty where it keeps quiet. */
  readonly said: readonly string[];
  readonly hasRun: boolean;
  /** Tags as they are nested, but for those around text that runs the other way or is long. */
  readonly skeleton: string;
  readonly tags: readonly string[];
  readonly attributes: readonly string[];
  readonly links: readonly string[];
  readonly title: string;
  /** White space collapsed. */
  readonly text: string;
  readonly heading: string;
  readonly cells: readonly string[];
}

/** Runs in the page. */
const LOOK = `(() => {
  const collapsed = (text) => text.replace(/\\s+/g, ' ').trim();
  const isWrapper = (element) =>
    element.localName === 'bdi' || (element.localName === 'span' && element.className === 'long');
  const nested = (element) => {
    const inside = [...element.children].map(nested).join('');
    return isWrapper(element) ? inside : '<' + element.localName + '>' + inside + '</>';
  };
  const all = [...document.querySelectorAll('*')];
  return {
    hasRun: window.ran !== undefined,
    skeleton: nested(document.documentElement),
    tags: [...new Set(all.map((element) => element.localName))],
    attributes: [...new Set(all.flatMap((element) => element.getAttributeNames()))],
    links: [...new Set(all.flatMap((element) =>
      element.getAttributeNames().filter((name) => /(^|:)(href|src|action|data|srcset|ping|poster)$/.test(name)).map((name) => element.getAttribute(name))))],
    title: document.title,
    text: collapsed(document.body.textContent),
    heading: collapsed(document.querySelector('h1').textContent),
    cells: [...document.querySelectorAll('td, th')].map((cell) => collapsed(cell.textContent)),
  };
})()`;

/** Runs in the page: what is wider than its place. A table may be wider than the screen, inside its own box that scrolls. */
const OVERFLOWS = `(() => {
  const wide = [...document.querySelectorAll('h1, h2, p, li, figcaption, caption, td, th, section, footer')]
    .filter((element) => element.clientWidth > 1 && element.scrollWidth > element.clientWidth + 1)
    .map((element) => element.localName + ' ' + element.className + ': ' + element.textContent.slice(0, 60));
  const page = document.documentElement;
  if (page.scrollWidth > innerWidth) wide.push('the page: ' + page.scrollWidth + ' of ' + innerWidth);
  return wide;
})()`;

/** Screens, and the width between the margins of A4 and its letter-size neighbour on paper. */
const WIDTHS = [
  ['screen', 1000],
  ['screen', 360],
  ['print', 703],
] as const;

/** A window that goes from page to page. */
export class Window {
  private said: string[] = [];
  private media: 'screen' | 'print' = 'screen';

  private constructor(
    readonly context: BrowserContext,
    private readonly page: Page,
  ) {}

  /** @param obeysPolicy false: the page's Content-Security-Policy is passed over, so that only escaping is left */
  static async open(browser: Browser, obeysPolicy: boolean): Promise<Window> {
    const context = await browser.newContext({
      bypassCSP: !obeysPolicy,
      viewport: { width: 1000, height: 900 },
    });
    const window = new Window(context, await context.newPage());
    await window.page.addInitScript('window.print = () => { window.ran = true; }');
    const { page } = window;
    const say = (what: string): unknown => window.said.push(what);
    page.on('dialog', (dialog) => {
      say(`dialog: ${dialog.message()}`);
      void dialog.dismiss();
    });
    page.on('console', (message) => say(`console: ${message.text()}`));
    page.on('pageerror', (error) => say(`error: ${error}`));
    page.on('request', (request) => say(`request: ${request.url()}`));
    context.on('page', () => say('another window'));
    return window;
  }

  /** Opens a file and waits until all that it would do has been done. */
  async look(path: string): Promise<Looked> {
    this.said = [];
    const url = pathToFileURL(path).href;
    await this.page.goto(url);
    const seen = (await this.page.evaluate(LOOK)) as Omit<Looked, 'said'>;
    return { ...seen, said: this.said.filter((what) => what !== `request: ${url}`) };
  }

  /** What of the open page is wider than its place, by screen and paper. */
  async overflows(): Promise<string[]> {
    const found: string[] = [];
    for (const [media, width] of WIDTHS) {
      await this.show(media, width);
      const wide = (await this.page.evaluate(OVERFLOWS)) as string[];
      found.push(...wide.map((what) => `${media} ${width}: ${what}`));
    }
    await this.show(...WIDTHS[0]);
    return found;
  }

  /** Changes only what is different, since each change lays the page out anew. */
  private async show(media: 'screen' | 'print', width: number): Promise<void> {
    if (media !== this.media) await this.page.emulateMedia({ media });
    if (width !== this.page.viewportSize()?.width) await this.page.setViewportSize({ width, height: 900 });
    this.media = media;
  }
}
