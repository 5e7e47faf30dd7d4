import { changeText } from '../page/settle-text.js';

/** A number and its unit, and the levels of a scale: `72 h`, `47 %`, `GOSE 5 to 8`. */
const BELONG = /\d (?=(?:h|%|min|s|mmHg)(?![\w/]))|\bGOSE? \d(?: to \d)?/g;

const held = (text: string): string => text.replace(BELONG, (part) => part.replaceAll(' ', '\u00a0'));

/** Text of a page in which no line ends between a number and its unit, or inside the levels of a scale. */
export const holdTogether = (html: string): string => changeText(html, held);
