import { visibleText } from '../visible-text.js';

/** What is no text of the body: the head, drawings and tags, with whatever stands in the quotes of their attributes. */
const MARKUP = /<head>[\s\S]*?<\/head>|<svg[\s>][\s\S]*?<\/svg>|<(?:"[^"]*"|'[^']*'|[^"'>])*>/g;

/** Text of a script that runs from right to left, up to its last such letter. */
const RIGHT_TO_LEFT =
  /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}](?:[^\p{Script=Latin}\n<]*[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\u{10800}-\u{10fff}\u{1e800}-\u{1efff}])?/gu;

/** A run without a space; one that does not break holds words together. */
const RUN = /(?:&(?:#\d+|\w+);|[^ \t\n<&])+/g;
const CHARACTER = /&(?:#\d+|\w+);|[^&]/gu;

/** No word of a page is as long. */
const LONG = 30;

const breakable = (run: string): string =>
  run.length >= LONG && (run.match(CHARACTER)?.length ?? 0) >= LONG
    ? `<span class="long">${run}</span>`
    : run;

const settled = (text: string): string =>
  text.replace(RUN, breakable).replace(RIGHT_TO_LEFT, '<bdi>$&</bdi>');

/**
 * Changes the text of a page and nothing of its markup.
 *
 * @param html well formed, all text escaped
 */
export function changeText(html: string, change: (text: string) => string): string {
  let done = '';
  let from = 0;
  for (const markup of html.matchAll(MARKUP)) {
    done += change(html.slice(from, markup.index)) + markup[0];
    from = markup.index + markup[0].length;
  }
  return done + change(html.slice(from));
}

/**
 * The last step of every page, whoever wrote the text in it: what cannot be seen is named, a script from right to left
 * leaves the order of the words around it alone, and a run without a space may break anywhere.
 *
 * @param html what the renderer gave: well formed, all text escaped
 */
export const settleText = (html: string): string => changeText(visibleText(html), settled);
