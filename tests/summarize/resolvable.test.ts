import { describe, expect, it } from 'vitest';
import { unless, withReasons } from '../../src/summarize/figure.js';
import { whyNoDose, whyNoRule } from '../../src/summarize/resolvable.js';

describe('what a sampling can show', () => {
  it('dose and hours up to one sample in 5 min', () => {
    expect(whyNoDose(1000)).toBeNull();
    expect(whyNoDose(300_000)).toBeNull();
    expect(whyNoDose(300_100)).toBe('not resolvable at this sampling: every 300.1 s, needs 300 s or finer');
  });
  it('a rule of 5 min up to one sample in a third of it', () => {
    expect(whyNoRule(100_000, 300)).toBeNull();
    expect(whyNoRule(120_000, 300)).toBe(
      'not resolvable at this sampling: every 120 s, needs 100 s or finer',
    );
  });
  it('a rule of 100 s, with the limit in readable figures', () => {
    expect(whyNoRule(33_000, 100)).toBeNull();
    expect(whyNoRule(34_000, 100)).toBe('not resolvable at this sampling: every 34 s, needs 33.3 s or finer');
  });
});

describe('a figure that is missing', () => {
  it('is a null with its reason beside it, and a figure that is there has none', () => {
    expect(withReasons({ mean: 12.5, dose: { reason: 'no ICP' } })).toEqual({
      mean: 12.5,
      dose: null,
      doseReason: 'no ICP',
    });
  });
  it('is not computed', () => {
    expect(
      unless('no ICP', () => {
        throw new Error('it was');
      }),
    ).toEqual({ reason: 'no ICP' });
    expect(unless(null, () => 3)).toBe(3);
  });
});
