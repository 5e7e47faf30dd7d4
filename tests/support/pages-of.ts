import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { RecordingResult } from '../../src/report/results-schema.js';

/** The HTML of a patient's pages: the morning page, and the one beside it. */
export const pagesOf = (
  out: string,
  { page, detailPage }: Pick<RecordingResult, 'page' | 'detailPage'>,
): { morning: string; detail: string } => ({
  morning: readFileSync(join(out, page ?? ''), 'utf8'),
  detail: readFileSync(join(out, detailPage ?? ''), 'utf8'),
});

/** What a page says, a line an element of its text. */
export const textOf = (html: string): string =>
  html
    .replace(/<style>.*?<\/style>/gs, '')
    .replace(/<(br|\/td|\/li|\/p|\/h2|\/h3|\/div)[^>]*>/g, '\n')
    .replace(/<[^>]+>/g, '')
    .replaceAll('&quot;', '"');
