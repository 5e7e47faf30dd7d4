/**
 * Characters that show as nothing but act on what stands around them, or make two texts look alike: controls, marks and
 * overrides of direction, breaks of line that are no line feed, invisible fillers, code points that are no character, and
 * halves of a character. Tab and line feed are white space.
 */
const NEVER_SEEN =
  '[\\u0000-\\u0008\\u000b-\\u001f\\u007f-\\u009f\\u00ad\\u034f\\u061c\\u115f\\u1160\\u180e\\u200b\\u200e\\u200f\\u2028-\\u202e\\u2060-\\u206f\\u3164\\ufdd0-\\ufdef\\ufeff\\uffa0\\ufff9-\\ufffb\\ufffe\\uffff\\u{1d173}-\\u{1d17a}\\p{Cs}]';

/** Joiners belong behind a letter of the scripts that join, a mark or an emoji; elsewhere nobody would see them. */
const STRAY_JOINER =
  '(?<!\\p{Extended_Pictographic}|\\p{Emoji_Modifier}|\\p{M}|(?!\\p{Script=Latin}|\\p{Script=Greek}|\\p{Script=Cyrillic})\\p{L})[\\u200c\\u200d]';

/**
 * Tags belong behind the black flag, where they spell whose flag it is, in at most six letters and a tag that ends them
 * (Unicode Technical Standard 51, emoji tag sequences). No more are looked back over: in a cell of nothing but tags
 * that would be all of them for each.
 */
const STRAY_TAG = '(?<!\\u{1f3f4}[\\u{e0020}-\\u{e007f}]{0,6})[\\u{e0000}-\\u{e007f}]';

const UNSEEN = new RegExp(`${NEVER_SEEN}|${STRAY_JOINER}|${STRAY_TAG}`, 'gu');

/** So many marks may stand on one character, as in vowel points with a sign of chant; more would be drawn over the lines around. */
const MOST_MARKS = 3;
const MANY_MARKS = new RegExp(`(?<=[\\p{Mn}\\p{Me}]{${MOST_MARKS}})[\\p{Mn}\\p{Me}]`, 'gu');

const named = (character: string): string =>
  `⟨U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, '0')}⟩`;

/**
 * A text whose every character can be seen: `a⟨U+202E⟩b`. Tabs and line feeds stay; those of CR LF count as a line feed.
 * Doing it twice changes nothing.
 */
export const visibleText = (text: string): string =>
  text.replaceAll('\r\n', '\n').replace(UNSEEN, named).replace(MANY_MARKS, named);

/** The same on one line, for a terminal or a line of a plain text file: line feeds and tabs become a space. */
export const oneLine = (text: string): string => visibleText(text).replace(/[\n\t]+/g, ' ');

/** JSON of the same value that a terminal shows as it stands: what cannot be seen is written as an escape. */
export const visibleJson = (json: string): string =>
  json.replace(UNSEEN, (character) =>
    [...Array(character.length).keys()]
      .map((i) => `\\u${character.charCodeAt(i).toString(16).padStart(4, '0')}`)
      .join(''),
  );
