import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Episode, findEpisodes } from '../../src/segment/episodes.js';
import { withSamplesOnTheLines } from '../support/lines.js';
import { holds, signals } from '../support/properties.js';
import { T0 } from '../support/signals.js';
import { OVER_22 } from '../support/targets.js';

const addedTimes = fc
  .array(fc.noBias(fc.integer({ min: 0, max: 1_800_000 })), { minLength: 1, maxLength: 60 })
  .map((list) => list.map((ms) => T0 + ms));
/** Values around the threshold, so that many pieces cross it. */
const nearThreshold = signals().map((signal) => ({
  ...signal,
  values: signal.values.map((x) => Math.round(10 * (20 + (x % 12))) / 10),
}));
const rules = fc.record({
  minSeconds: fc.constantFrom(30, 120, 300),
  dipSeconds: fc.constantFrom(0, 10, 30),
  bridgeSeconds: fc.constantFrom(0, 60, 120),
  side: fc.constantFrom('above' as const, 'below' as const),
});

function expectSame(found: readonly Episode[], expected: readonly Episode[]): void {
  expect(found).toHaveLength(expected.length);
  expected.forEach((episode, i) => {
    // Crossings are computed on times of 10^12 ms: a hundredth of a millisecond is their rounding.
    expect(found[i].start).toBeCloseTo(episode.start, 1);
    expect(found[i].end).toBeCloseTo(episode.end, 1);
    expect([found[i].openStart, found[i].openEnd]).toEqual([episode.openStart, episode.openEnd]);
  });
}

describe('adding samples on the lines changes no episode', () => {
  it('on random signals with gaps', () => {
    let episodes = 0;
    holds(
      fc.property(nearThreshold, addedTimes, rules, (signal, added, rule) => {
        const before = findEpisodes(signal, { ...OVER_22, ...rule });
        const after = findEpisodes(withSamplesOnTheLines(signal, added), { ...OVER_22, ...rule });
        episodes += before.episodes.length;
        expectSame(after.episodes, before.episodes);
        expectSame(after.undetermined, before.undetermined);
      }),
    );
    expect(episodes).toBeGreaterThan(100);
  });
});
