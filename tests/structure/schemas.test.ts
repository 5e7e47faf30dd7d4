import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { schemaFiles } from '../tools/schema-files.js';

describe('the committed JSON Schemas', () => {
  it.each(schemaFiles().map(({ url, text }) => [url.pathname.split('/').at(-1), url, text] as const))(
    '%s is what the code says ("npm run schemas" writes it)',
    (_name, url, text) => {
      expect(readFileSync(url, 'utf8')).toBe(text);
    },
  );
});
