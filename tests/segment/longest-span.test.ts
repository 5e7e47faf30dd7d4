import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Link, longestSpan, type Span } from '../../src/segment/longest-span.js';
import { holds } from '../support/properties.js';

/** Looks at every span there is: the longest, of equal ones the first. */
function byBruteForce(links: readonly Link[]): Span | null {
  let best: Span | null = null;
  let longest = -1;
  for (let from = 0; from < links.length; from++) {
    let [a, b] = [0, 0];
    for (let to = from; to < links.length; to++) {
      const { own, separator, end } = links[to];
      if (to > from) [a, b] = [a + separator[0], b + separator[1]];
      [a, b] = [a + own[0], b + own[1]];
      const length = end - links[from].start;
      if (a >= 0 && b >= 0 && length > longest) {
        best = { from, to };
        longest = length;
      }
    }
  }
  return best;
}

// Whole numbers, so that no sum rounds and both ways have to agree exactly.
const sum = fc.integer({ min: -20, max: 20 });
const pair = fc.tuple(sum, sum);
const chains = fc
  .array(fc.record({ own: pair, separator: pair, length: fc.nat(9), gap: fc.nat(9) }), {
    maxLength: 30,
    size: 'max',
  })
  .map((parts) => {
    let at = 0;
    return parts.map(({ own, separator, length, gap }): Link => {
      const start = at + gap + 1;
      at = start + length + 1;
      return { start, end: at, own, separator };
    });
  });

/** What a chain of stretches above makes of it: each link is good alone, each separator costs. */
const likelyChains = chains.map((links) =>
  links.map(({ own, separator, ...link }) => ({
    ...link,
    own: [Math.abs(own[0]), Math.abs(own[1])] as const,
    separator: [-Math.abs(separator[0]), separator[1]] as const,
  })),
);

describe('the longest span of a chain, against looking at every span', () => {
  it('is the same on chains of any numbers', () => {
    holds(
      fc.property(chains, (links) => {
        expect(longestSpan(links)).toEqual(byBruteForce(links));
      }),
      2000,
    );
  });
  it('is the same on chains as episodes make them', () => {
    holds(
      fc.property(likelyChains, (links) => {
        expect(longestSpan(links)).toEqual(byBruteForce(links));
      }),
      2000,
    );
  });
  it('is null for no links, and where none fulfils the conditions', () => {
    expect(longestSpan([])).toBeNull();
    expect(longestSpan([{ start: 0, end: 9, own: [-1, 5], separator: [0, 0] }])).toBeNull();
  });
  it('ignores what separates the first link from the one before it', () => {
    expect(longestSpan([{ start: 0, end: 9, own: [1, 1], separator: [-99, -99] }])).toEqual({
      from: 0,
      to: 0,
    });
  });
});
