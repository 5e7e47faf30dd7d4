import { Buffer } from 'node:buffer';
import fc from 'fast-check';
import iconv from 'iconv-lite';
import { describe, expect, test } from 'vitest';
import { TextDecoding } from '../../src/ingest/text/decode.js';
import { ingestOne, seeded, valuesOf } from './support.js';

/** Decodes bytes that come in chunks of one size. */
function decode(bytes: Uint8Array, chunk: number): { text: string; encoding: string } {
  const decoding = new TextDecoding();
  let text = '';
  for (let i = 0; i < bytes.length; i += chunk) text += decoding.push(bytes.subarray(i, i + chunk));
  return { text: text + decoding.end(), encoding: decoding.encoding };
}

const HEAD = 'Time;ICP (mmHg);Note\n';
const NOTE = 'Lagerung links, 37,2 \u00b0C, \u00e6\u00f8\u00e5 \u20ac';

describe('the encoding of a file', () => {
  test.each([
    ['UTF-8', Buffer.from(HEAD + NOTE), 'utf-8'],
    ['UTF-8 with a mark', Buffer.from(`\ufeff${HEAD}${NOTE}`), 'utf-8'],
    ['UTF-16, little end first', iconv.encode(HEAD + NOTE, 'utf-16le', { addBOM: true }), 'utf-16le'],
    ['UTF-16, big end first', iconv.encode(HEAD + NOTE, 'utf-16be', { addBOM: true }), 'utf-16be'],
    ['UTF-16 without a mark', iconv.encode(HEAD + NOTE, 'utf-16le'), 'utf-16le'],
    ['UTF-16 the other way without a mark', iconv.encode(HEAD + NOTE, 'utf-16be'), 'utf-16be'],
    ['Windows-1252', iconv.encode(HEAD + NOTE, 'windows-1252'), 'windows-1252'],
  ])('is found, and the text is whole: %s', (_, bytes, encoding) => {
    expect(decode(bytes, bytes.length)).toEqual({ text: HEAD + NOTE, encoding });
  });

  test('does not depend on the chunks in which the file comes', () => {
    const texts = fc.string({
      unit: fc.constantFrom('a', ';', '\n', '\u00e9', '\u20ac', '\u{1f6cf}'),
      maxLength: 40,
    });
    fc.assert(
      fc.property(texts, fc.integer({ min: 16, max: 60 }), (text, chunk) => {
        const bytes = Buffer.from(HEAD + text);
        expect(decode(bytes, chunk)).toEqual(decode(bytes, bytes.length));
        expect(decode(bytes, chunk).text).toBe(HEAD + text);
      }),
      seeded(500),
    );
  });

  test('is Windows-1252 from the first byte that is no UTF-8, however late', () => {
    const bytes = Buffer.concat([Buffer.from(HEAD.repeat(5_000)), Buffer.from([0xb0, 0x43, 0x0a])]);
    expect(decode(bytes, 1 << 12)).toEqual({
      text: `${HEAD.repeat(5_000)}\u00b0C\n`,
      encoding: 'windows-1252',
    });
  });

  test('stays UTF-8 where other characters spoke for it, and damage shows as a sign of its own', () => {
    const bytes = Buffer.concat([Buffer.from('\u00e9;'), Buffer.from([0xff]), Buffer.from(';x')]);
    expect(decode(bytes, bytes.length)).toEqual({ text: '\u00e9;\ufffd;x', encoding: 'utf-8' });
  });

  test('changes no value', async () => {
    const content = `${HEAD}2031-02-11 02:10:00;12,5;${NOTE}\n2031-02-11 02:10:01;13;\n`;
    for (const encoding of ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252']) {
      expect(valuesOf(await ingestOne(iconv.encode(content, encoding)), 'icp'), encoding).toEqual([12.5, 13]);
    }
  });
});
