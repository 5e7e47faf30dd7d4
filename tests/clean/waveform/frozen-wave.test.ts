import { describe, expect, it } from 'vitest';
import { frozenWave } from '../../../src/clean/frozen-wave.js';
import { inventedAbp, inventedIcp } from '../../support/waves.js';
import { changed, sampled, secondsOf, watched } from './support.js';

const icp = sampled(inventedIcp, 120);

describe('a frozen waveform', () => {
  it('keeps one value for 3 s or more; it is still, and not false', () => {
    const seen = watched(frozenWave, changed(icp, 30 * 125, 5 * 125, 12.3));
    expect(secondsOf(seen)).toEqual([[30, 34]]);
    expect(seen[0].isStill).toBe(true);
    expect(watched(frozenWave, changed(icp, 30 * 125, 2 * 125, 12.3))).toEqual([]);
  });

  it('may be arterial pressure, at any rate', () => {
    for (const perSecond of [50, 250]) {
      const abp = changed(sampled(inventedAbp, 60, perSecond), 20 * perSecond, 10 * perSecond, 0.5);
      expect(secondsOf(watched(frozenWave, abp, { kind: 'map', perSecond }))).toEqual([[20, 29]]);
    }
  });

  it('is none where a small pulse in whole mmHg keeps its value for seconds by itself', () => {
    // Invented: a slow wander of 1 mmHg with a pulse too small to show in whole mmHg.
    const coarse = sampled((t) => 12.5 + Math.sin(t / 7) + 0.05 * Math.sin(8 * t), 600, 125, 1);
    expect(watched(frozenWave, coarse)).toEqual([]);
    // A minute and more without a change is one there too.
    const seen = watched(frozenWave, changed(coarse, 200 * 125, 150 * 125, 15));
    expect(secondsOf(seen)).toEqual([[200, 349]]);
  });

  it('is none where the channel never lives', () => {
    expect(watched(frozenWave, new Array(60 * 125).fill(12))).toEqual([]);
  });

  it('is none where it is held at the end of the scale, which is told of otherwise', () => {
    const high = (t: number): number => Math.min(40, inventedIcp(t) + 26);
    const held = changed(sampled(high, 120), 60 * 125, 10 * 125, 40);
    expect(watched(frozenWave, held)).toEqual([]);
  });

  it('ends at a hole', () => {
    const still = changed(icp, 30 * 125, 5 * 125, 12.3);
    expect(watched(frozenWave, still, { holes: [32 * 125 + 60] })).toEqual([]);
  });
});
