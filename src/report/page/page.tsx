import type { ComponentChildren, JSX } from 'preact';
import { renderToStaticMarkup } from 'preact-render-to-string';
import { CAUTIONS } from './cautions.js';
import { settleText } from './settle-text.js';
import { STYLE } from './style.js';

/** No script, no network address: nothing but the page's own style and pictures inside it. */
const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

interface PageProps {
  readonly title: string;
  /** What, whom, period. */
  readonly subtitle: ComponentChildren;
  readonly children: ComponentChildren;
}

/** The frame of every page: header, content, cautions. */
function Page({ title, subtitle, children }: PageProps): JSX.Element {
  return (
    <html lang="en">
      <head>
        <meta charSet="utf-8" />
        <meta http-equiv="Content-Security-Policy" content={POLICY} />
        <meta name="viewport" content="width=device-width, initial-scale=1" />
        <meta name="referrer" content="no-referrer" />
        <title>{title}</title>
        <style dangerouslySetInnerHTML={{ __html: STYLE }} />
      </head>
      <body>
        <header class="page">
          <h1>{title}</h1>
          <p class="sub">{subtitle}</p>
        </header>
        <main>{children}</main>
        <footer class="cautions">
          <strong>Cautions</strong>
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
