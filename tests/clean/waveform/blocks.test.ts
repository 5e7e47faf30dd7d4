import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { RULES } from '../../../src/clean/rules.js';
import { holds } from '../../support/properties.js';
import { inventedIcp } from '../../support/waves.js';
import { changed, sampled, watched } from './support.js';

const watching = RULES.filter(({ watch }) => watch !== undefined);

/** Invented: all that the rules look for, in 24 s at 50 a second. */
const rough = ((): number[] => {
  const top = sampled((t) => Math.min(13.5, inventedIcp(t)), 24, 50);
  const spiked = changed(changed(top, 149, 2, -15), 420, 9, 0);
  const outside = changed(spiked, 600, 55, (_, k) => 500 + k);
  return changed(outside, 800, 201, 9.7);
})();

describe('what the rules see in a waveform', () => {
  it('is there to be seen', () => {
    for (const rule of watching) {
      expect(watched(rule, rough, { perSecond: 50 }).length, rule.name).toBeGreaterThan(0);
    }
    expect(watching.map(({ name }) => name)).toEqual([
      'outsideRange',
      'frozenWave',
      'transient',
      'clippedWave',
    ]);
  });

  it.each(watching.map((rule) => [rule.name, rule] as const))(
    '%s does not hang on where blocks end',
    (_, rule) => {
      const once = watched(rule, rough, { perSecond: 50, cuts: [] });
      holds(
        fc.property(fc.array(fc.integer({ min: 1, max: rough.length - 1 }), { maxLength: 60 }), (cuts) => {
          expect(watched(rule, rough, { perSecond: 50, cuts })).toEqual(once);
        }),
        100,
      );
    },
  );
});
