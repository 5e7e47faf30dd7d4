/** So many characters at most stand at the foot of a sheet, beside the number of the page. */
export const LONGEST = 90;

/** What breaks a line, or would join two words by going. */
const BREAKS = /[\t\n\v\f\r\u0085\p{Zl}\p{Zp}]+/gu;
/** Control characters, those that turn the direction of writing or cannot be seen, and halves of characters. */
const UNSEEN = /[\p{Cc}\p{Cf}\p{Cs}]/gu;

const escaped = (character: string): string =>
  `\\${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(6, '0')} `;

/**
 * A text as a string of CSS, quotes included. All but Latin letters, digits and the space is written by its number, so
 * that no text from outside can end the string, the rule or the style element; at most 90 characters, then an ellipsis.
 */
export function cssString(text: string): string {
  const characters = [...text.replace(BREAKS, ' ').replace(UNSEEN, '')];
  const shown = characters.length > LONGEST ? [...characters.slice(0, LONGEST), '…'] : characters;
  return `"${shown.map((character) => (/^[A-Za-z0-9 ]$/.test(character) ? character : escaped(character))).join('')}"`;
}
