import { expect } from 'vitest';
import type { Looked } from './look.js';

/** All that our pages are made of. */
const TAGS = new Set(
  'html head meta title style body header nav main footer section div p pre h1 h2 h3 strong a br span bdi i ul ol li details summary table caption thead tbody tr th td figure figcaption svg g path line rect text tspan defs clippath lineargradient stop'.split(
    ' ',
  ),
);

const LINKS = /^(?:index\.html|patient-[a-z0-9_-]+\.html|results\.json|handover\.txt|#[\w-]+)$/;

/** No script ran, nothing was asked for, and nothing on the page could do either. */
export function expectQuiet(page: Looked, name: string): void {
  expect(page.said, name).toEqual([]);
  expect(page.hasRun, name).toBe(false);
  expect(
    page.tags.filter((tag) => !TAGS.has(tag.toLowerCase())),
    name,
  ).toEqual([]);
  expect(
    page.attributes.filter((attribute) => /^on/i.test(attribute)),
    name,
  ).toEqual([]);
  expect(
    page.links.filter((link) => !LINKS.test(link)),
    name,
  ).toEqual([]);
}
