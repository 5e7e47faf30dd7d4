import { MARKUP } from '../page/settle-text.js';

/** A number and its unit, and the levels of a scale: `72 h`, `47 %`, `GOSE 5 to 8`. */
const BELONG = /\d (?=(?:h|%|min|s|mmHg)(?![\w/]))|\bGOSE? \d(?: to \d)?/g;

const held = (text: string): string => text.replace(BELONG, (part) => part.replaceAll(' ', '\u00a0'));

/** Text of a page in which no line ends between a number and its unit, or inside the levels of a scale. */
export function holdTogether(html: string): string {
  let done = '';
  let from = 0;
  for (const markup of html.matchAll(MARKUP)) {
    done += held(html.slice(from, markup.index)) + markup[0];
    from = markup.index + markup[0].length;
  }
  return done + held(html.slice(from));
}
