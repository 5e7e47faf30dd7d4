import type { ComponentChildren, JSX } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { CAUTIONS } from './cautions.js';
import { cssString } from './css-string.js';
import { settleText } from './settle-text.js';
import { STYLE } from './style.js';

/** No script, no network address: nothing but the page's own style and pictures inside it. */
const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

interface PageProps {
  readonly title: string;
  /** What, whom, period. */
  readonly subtitle: ComponentChildren;
  /** Stands at the foot of each printed sheet, so that a loose one can be told; up to 90 characters of it. */
  readonly running: string;
  /** To the pages beside it; not printed. */
  readonly links?: readonly { readonly href: string; readonly text: string }[];
  readonly children: ComponentChildren;
}

/** In an element of its own, since the style sheet is the same for all pages. */
const footOf = (running: string): string => `@page { @bottom-left { content: ${cssString(running)}; } }`;

/** The frame of every page: header, content, cautions. */
function Page({ title, subtitle, running, links = [], children }: PageProps): JSX.Element {
  return (
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={POLICY} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
        <style dangerouslySetInnerHTML={{ __html: footOf(running) }} />
      </head>
      <body>
        <header class="page">
          <h1>{title}</h1>
          <p class="sub">{subtitle}</p>
          {links.length > 0 && (
            <nav aria-label="Pages of this report">
              {links.map(({ href, text }) => (
                <a key={href} href={href}>
                  {text}
                </a>
              ))}
            </nav>
          )}
        </header>
        <main>{children}</main>
        <footer class="cautions">
          <h2>Cautions</h2>
          <ul>
            {CAUTIONS.map((caution) => (
              <li key={caution}>{caution}</li>
            ))}
          </ul>
        </footer>
      </body>
    </html>
  );
}

/** A whole HTML document; all text in it is escaped by the renderer, and then made fit to be seen. */
export const renderPage = (props: PageProps): string =>
  settleText(`<!doctype html>\n${renderToStaticMarkup(<Page {...props} />)}\n`);
