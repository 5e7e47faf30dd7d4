import fc from 'fast-check';
import { type DefaultTreeAdapterTypes, parse } from 'parse5';
import { h } from 'preact';
import { describe, expect, it } from 'vitest';
import { InlineChart } from '../../../src/report/page/chart.js';
import { renderPage } from '../../../src/report/page/page.js';
import { Table } from '../../../src/report/page/table.js';
import { visibleText } from '../../../src/report/visible-text.js';
import { holds } from '../../support/properties.js';
import { CORPUS, PIPELINE_ONLY } from './corpus.js';

type Node = DefaultTreeAdapterTypes.Node;
type Element = DefaultTreeAdapterTypes.Element;

const childrenOf = (node: Node): Node[] => ('childNodes' in node ? node.childNodes : []);
const isElement = (node: Node): node is Element => 'tagName' in node;

const textOf = (node: Node): string =>
  node.nodeName === '#text'
    ? (node as DefaultTreeAdapterTypes.TextNode).value
    : childrenOf(node).map(textOf).join('');

const allOf = (node: Node, tag: string): Element[] =>
  childrenOf(node).flatMap((child) => [
    ...(isElement(child) && child.tagName === tag ? [child] : []),
    ...allOf(child, tag),
  ]);

/** Tags as they are nested, but for those that run the other way or are long. */
const skeleton = (node: Node): string => {
  const inside = childrenOf(node).map(skeleton).join('');
  if (!isElement(node)) return inside;
  const { tagName, attrs } = node;
  const isWrapper = tagName === 'bdi' || (tagName === 'span' && attrs.some(({ value }) => value === 'long'));
  return isWrapper
    ? inside
    : `<${tagName} ${attrs.map(({ name }) => name).filter((name) => name !== 'class')}>${inside}</>`;
};

/** A page with the text in each kind of place, read as a browser reads it. */
function pageWith(text: string): { document: Node; skeleton: string } {
  const html = renderPage({
    title: text,
    subtitle: text,
    running: text,
    links: [{ href: 'index.html', text }],
    children: [
      h('p', { key: 'note', class: 'note' }, text),
      h(InlineChart, { key: 'chart', svg: '<svg width="1"><path d="M0 0"/></svg>', says: text }),
      h(Table, {
        key: 'table',
        caption: 'Caption',
        columns: [{ head: text }, { head: 'b' }],
        rows: [{ key: text, cells: [h('a', { href: 'index.html' }, text), text], note: ['Note: ', text] }],
      }),
    ],
  });
  const document = parse(html);
  return { document, skeleton: skeleton(document) };
}

const PLAIN = pageWith('plain').skeleton;

function expectText(text: string): void {
  const { document, skeleton: found } = pageWith(text);
  const seen = visibleText(text);
  const texts = (tag: string): string[] => allOf(document, tag).map(textOf);
  expect(found).toBe(PLAIN);
  expect(texts('title')).toEqual([seen]);
  expect(texts('h1')).toEqual([seen]);
  expect(texts('p')).toEqual([seen, seen]);
  expect(texts('a')).toEqual([seen, seen]);
  expect(texts('th')).toEqual([seen, 'b', seen]);
  expect(texts('td')).toEqual([seen, `Note: ${seen}`]);
  const [svg] = allOf(document, 'svg');
  expect(svg.attrs.find(({ name }) => name === 'aria-label')?.value).toBe(seen);
}

describe('a text in a page, read by a parser of HTML', () => {
  it('comes out as it went in, for each of the corpus', () => {
    for (const text of [...CORPUS, ...PIPELINE_ONLY]) expectText(text);
  });

  it('comes out as it went in, whatever it is', () => {
    const parts = fc.constantFrom(
      ...'<>/!-="\'`&;#$\\{}()[]%',
      '<script>',
      '</title',
      "$'",
      '$&',
      '-->',
      '&lt',
      '\u05d0',
      '\u202e',
      '\r\n',
      '\ud800',
      'x'.repeat(40),
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary', minLength: 1, maxLength: 60 }),
      fc
        .array(fc.oneof(parts, fc.string({ unit: 'grapheme', maxLength: 3 })), {
          minLength: 1,
          maxLength: 30,
        })
        .map((all) => all.join('')),
    );
    holds(fc.property(text, expectText), 500);
  });
});
