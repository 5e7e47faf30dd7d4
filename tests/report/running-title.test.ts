import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cssString, LONGEST } from '../../src/report/page/css-string.js';
import { renderPage } from '../../src/report/page/page.js';
import { runningTitle } from '../../src/report/page/running-title.js';

/** Reads a CSS string as CSS Syntax Level 3 says (section 4.3.5, strings, and 4.3.7, escapes). */
const read = (css: string): string =>
  css
    .slice(1, -1)
    .replace(/\\([0-9A-Fa-f]{1,6})\s?/g, (_, hex: string) => String.fromCodePoint(Number.parseInt(hex, 16)));

const NIGHT = {
  word: 'night',
  start: '2031-02-11T19:00:00+01:00',
  end: '2031-02-12T07:00:00+01:00',
} as const;

describe('a text as a string of CSS', () => {
  it.each([
    ['104', '"104"'],
    ['Patient 104, night', '"Patient 104\\00002C  night"'],
    ['"; } body { display: none } @page { content: "', null],
    ['</style><script>alert(1)</script>', null],
    ['<!-- \\22 \\', null],
    ["it's */ /* url(x)", null],
    ['Åse 你好 👩', null],
  ])('holds %j and nothing else', (text, expected) => {
    const css = cssString(text);
    if (expected !== null) expect(css).toBe(expected);
    expect(css).toMatch(/^"(?:[A-Za-z0-9 ]|\\[0-9A-F]{6} )*"$/);
    expect(read(css)).toBe(text);
  });

  it('drops what cannot be seen or turns the direction of writing, and keeps words apart', () => {
    expect(cssString('a\u202Eb\u2066c\u200Fd\u0000e\u061Cf\uD800g\uFEFFh')).toBe('"abcdefgh"');
    expect(cssString('bed\r\n7\u2028west\twing')).toBe('"bed 7 west wing"');
  });

  it('ends after 90 characters with an ellipsis', () => {
    expect(cssString('x'.repeat(90))).toBe(`"${'x'.repeat(90)}"`);
    expect(cssString('x'.repeat(91))).toBe(`"${'x'.repeat(90)}\\002026 "`);
    expect(read(cssString('👩'.repeat(91)))).toBe(`${'👩'.repeat(90)}…`);
  });

  it('can be left by no text', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        expect(cssString(text)).toMatch(/^"(?:[A-Za-z0-9 ]|\\[0-9A-F]{6} ){0,91}"$/);
      }),
    );
  });
});

describe('the running title', () => {
  it('names whom and when', () => {
    expect(runningTitle('Patient 104', NIGHT)).toBe('Patient 104, night of 11 to 12 February 2031');
    expect(runningTitle('Patient 104', { ...NIGHT, word: 'period' })).toBe(
      'Patient 104, 11 to 12 February 2031',
    );
  });

  it('cuts a long name and not the time', () => {
    const title = runningTitle(
      'The neuro intensive care unit of some name that takes more than there is',
      NIGHT,
    );
    expect(title).toBe(
      'The neuro intensive care unit of some name that takes mo…, night of 11 to 12 February 2031',
    );
    expect([...title].length).toBeLessThanOrEqual(LONGEST);
  });

  it('stands on a page as a string, whatever is in it', () => {
    const running = '"} </style><b>';
    const html = renderPage({ title: 't', subtitle: 's', running, children: null });
    expect(html).toContain(
      '@page { @bottom-left { content: "\\000022 \\00007D  \\00003C \\00002F style\\00003E \\00003C b\\00003E "; } }</style>',
    );
    expect(html.match(/<\/style>/g)).toHaveLength(2);
  });
});
