import { describe, expect, it } from 'vitest';
import { clippedWave } from '../../../src/clean/clipped-wave.js';
import { inventedAbp, inventedIcp } from '../../support/waves.js';
import { changed, sampled, secondsOf, watched } from './support.js';

describe('a waveform at the end of the scale', () => {
  it('has flat tops, beat by beat; its mean is too low, and the pressure is high', () => {
    const abp = sampled(inventedAbp, 120).map((value, i) => (i < 60 * 125 ? value : Math.min(value, 95)));
    const cut = abp.map((value) => Math.min(value, 95));
    const seen = watched(clippedWave, cut, { kind: 'map' });
    expect(secondsOf(seen)).toEqual([[0, 119]]);
    expect(seen[0].direction).toBe('up');
    // Where higher values stand elsewhere, it is no end of the scale.
    expect(watched(clippedWave, abp, { kind: 'map' })).toEqual([]);
  });

  it('may be cut off below, which is left out', () => {
    const low = sampled((t) => Math.max(-5, inventedIcp(t) - 17), 120);
    expect(watched(clippedWave, low)[0]).toMatchObject({ direction: 'down' });
  });

  it('is marked only where it is met', () => {
    const rising = sampled((t) => Math.min(25, inventedIcp(t) + (t > 60 && t < 90 ? 14 : 0)), 120);
    for (const [from, to] of secondsOf(watched(clippedWave, rising))) {
      expect(from).toBeGreaterThanOrEqual(60);
      expect(to).toBeLessThan(90);
    }
    expect(watched(clippedWave, rising).length).toBeGreaterThan(0);
  });

  it.each([
    [1, 0.05],
    [1, 2],
    [1, 5.49],
    [10, 2],
    [100, 2],
  ])('is not one whose peaks end in the same step by themselves, %i steps a mmHg', (steps, pulse) => {
    // The pulse of a ventilated patient is the same beat after beat.
    const even = sampled((t) => 12 + pulse * Math.sin(2 * Math.PI * 1.2 * t), 600, 125, steps);
    expect(watched(clippedWave, even)).toEqual([]);
  });

  it('is not told from values outside the measuring range', () => {
    const cut = sampled(inventedAbp, 120).map((value) => Math.min(value, 95));
    const loose = changed(cut, 4000, 3, 3276.7);
    expect(secondsOf(watched(clippedWave, loose, { kind: 'map' })).at(0)?.[0]).toBe(0);
  });
});
