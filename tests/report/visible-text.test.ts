import { describe, expect, it, test } from 'vitest';
import { oneLine, visibleJson, visibleText } from '../../src/report/visible-text.js';
import { CORPUS, PIPELINE_ONLY } from './hostile/corpus.js';

describe('a text whose every character can be seen', () => {
  test.each([
    ['an override of direction', 'invoice\u202efdp.exe', 'invoice⟨U+202E⟩fdp.exe'],
    ['isolates', '\u2066a\u2069', '⟨U+2066⟩a⟨U+2069⟩'],
    ['marks of direction', 'a\u200e\u200f\u061c', 'a⟨U+200E⟩⟨U+200F⟩⟨U+061C⟩'],
    ['an escape sequence', '\u001b[2J\u009b1m', '⟨U+001B⟩[2J⟨U+009B⟩1m'],
    ['NUL and DEL', '\u0000\u007f', '⟨U+0000⟩⟨U+007F⟩'],
    ['separators of lines', 'a\u2028b\u2029c\u0085d', 'a⟨U+2028⟩b⟨U+2029⟩c⟨U+0085⟩d'],
    ['a mark of byte order', '\ufeff007', '⟨U+FEFF⟩007'],
    ['what has no width', '0\u200b0\u20607', '0⟨U+200B⟩0⟨U+2060⟩7'],
    ['joiners between digits', '0\u200d0\u200c7', '0⟨U+200D⟩0⟨U+200C⟩7'],
    ['halves of a character', 'a\ud83db\udc00', 'a⟨U+D83D⟩b⟨U+DC00⟩'],
    ['tags that no flag begins', '7\u{e0031}', '7⟨U+E0031⟩'],
    [
      'tags behind a flag that are more than its name',
      `\u{1f3f4}${'\u{e0067}'.repeat(9)}`,
      `\u{1f3f4}${'\u{e0067}'.repeat(7)}⟨U+E0067⟩⟨U+E0067⟩`,
    ],
    ['what is no character', '\uffff\ufdd0', '⟨U+FFFF⟩⟨U+FDD0⟩'],
    ['a carriage return by itself', 'safe\rX', 'safe⟨U+000D⟩X'],
    ['marks piled up', 'e\u0301\u0302\u0303\u0304\u0306', 'e\u0301\u0302\u0303⟨U+0304⟩⟨U+0306⟩'],
  ])('names %s', (_, text, seen) => {
    expect(visibleText(text)).toBe(seen);
  });

  test.each([
    ['white space', 'a\tb\nc  d\u00a0e'],
    [
      'an emoji of several',
      '\u{1f469}\u200d\u{1f469}\u200d\u{1f467} \u{1f3f3}\ufe0f\u200d\u{1f308} 1\ufe0f\u20e3',
    ],
    ['a flag of tags', '\u{1f3f4}\u{e0067}\u{e0062}\u{e007f}'],
    ['a joiner in Persian', '\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645'],
    ['a joiner in Hindi', '\u0928\u094d\u200d'],
    ['vowel points', '\u05d1\u05bc\u05b0\u0591'],
    ['what only looks like markup', '<b>&amp; "both"'],
  ])('leaves %s alone', (_, text) => {
    expect(visibleText(text)).toBe(text);
  });

  it('counts the two ends of a line as one', () => {
    expect(visibleText('a\r\nb')).toBe('a\nb');
    expect(oneLine('a\r\nb\t\tc\n\nd')).toBe('a b c d');
  });

  it('is the same when it is done twice, whatever the text', () => {
    for (const text of [...CORPUS, ...PIPELINE_ONLY]) {
      const once = visibleText(text);
      expect(visibleText(once)).toBe(once);
      expect(oneLine(text)).not.toMatch(/[\p{Cc}\p{Cs}\p{Zl}\p{Zp}]/u);
    }
  });

  it('is the same value in JSON', () => {
    const values = [...CORPUS, ...PIPELINE_ONLY];
    const json = visibleJson(JSON.stringify(values, null, 2));
    expect(JSON.parse(json)).toEqual(values);
    expect(json.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\p{Cs}\p{Zl}\p{Zp}\u202a-\u202e\u2066-\u2069]/u);
  });
});
