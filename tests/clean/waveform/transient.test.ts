import { describe, expect, it } from 'vitest';
import { transient } from '../../../src/clean/transient.js';
import { inventedAbp, inventedIcp } from '../../support/waves.js';
import { changed, sampled, secondsOf, watched } from './support.js';

const icp = sampled(inventedIcp, 20);

describe('a spike in a waveform', () => {
  it('is a jump and back within 25 ms, up or down, of one sample or a few', () => {
    for (const count of [1, 2, 4]) {
      for (const jump of [11, 60, -11]) {
        const spiked = changed(icp, 1260, count, (sample) => sample + jump);
        expect(secondsOf(watched(transient, spiked)), `${count} samples, ${jump}`).toEqual([[10, 10]]);
      }
    }
  });

  it('may decay over its samples', () => {
    const spiked = changed(icp, 1260, 4, (sample, k) => sample + [40, 25, 12, 7][k]);
    expect(secondsOf(watched(transient, spiked))).toEqual([[10, 10]]);
  });

  it('is none that is smaller, stays longer, or stays', () => {
    expect(
      watched(
        transient,
        changed(icp, 1260, 1, (sample) => sample + 9),
      ),
    ).toEqual([]);
    expect(
      watched(
        transient,
        changed(icp, 1260, 6, (sample, k) => sample + 15 + k),
      ),
    ).toEqual([]);
    expect(
      watched(
        transient,
        changed(icp, 1260, 2500, (sample) => sample + 15),
      ),
    ).toEqual([]);
  });

  it('is also a dropout to one value that stands still, for up to a second', () => {
    for (const count of [12, 120]) {
      expect(secondsOf(watched(transient, changed(icp, 1255, count, 0)))).toEqual([
        [10, Math.floor((1255 + count - 1) / 125)],
      ]);
    }
    expect(watched(transient, changed(icp, 1255, 150, 0))).toEqual([]);
  });

  it('is also a dropout that a hole or the end begins or ends', () => {
    const dropped = changed(icp, 1255, 12, 0);
    for (const holes of [[1255], [1267]]) {
      expect(secondsOf(watched(transient, dropped, { holes })), `${holes}`).toEqual([[10, 10]]);
    }
    expect(secondsOf(watched(transient, changed(icp, 0, 12, 0)))).toEqual([[0, 0]]);
    expect(secondsOf(watched(transient, changed(icp, 2480, 20, 0)))).toEqual([[19, 19]]);
    // Too few samples to tell, or no jump.
    expect(watched(transient, changed(icp, 0, 2, 0))).toEqual([]);
    expect(watched(transient, changed(icp, 2498, 2, 0))).toEqual([]);
    expect(watched(transient, changed(icp, 0, 12, 12))).toEqual([]);
    expect(watched(transient, changed(icp, 0, 200, 0))).toEqual([]);
  });

  it('is none across a hole', () => {
    const spiked = changed(icp, 1260, 1, 60);
    expect(watched(transient, spiked, { holes: [1260] })).toEqual([]);
    expect(watched(transient, spiked, { holes: [1261] })).toEqual([]);
  });
});

describe('an arterial pulse', () => {
  // Invented: an upstroke of 60 mmHg within 40 ms, then a slow fall, the steepest that is seen at the bedside.
  const steep = (t: number): number => {
    const phase = (t * 1.5) % 1;
    return 70 + (phase < 0.06 ? (phase / 0.06) * 70 : 70 * Math.exp(-(phase - 0.06) * 3));
  };

  it.each([40, 50, 125, 250])('is no spike, however steep its upstroke, at %i a second', (perSecond) => {
    expect(watched(transient, sampled(steep, 60, perSecond), { kind: 'map', perSecond })).toEqual([]);
    expect(watched(transient, sampled(inventedAbp, 60, perSecond), { kind: 'map', perSecond })).toEqual([]);
  });

  it('with one sample at 300 holds one', () => {
    const abp = changed(sampled(steep, 20, 50), 333, 1, 300);
    expect(secondsOf(watched(transient, abp, { kind: 'map', perSecond: 50 }))).toEqual([[6, 6]]);
  });

  it('asks for another jump than ICP, and both can be set', () => {
    const abp = changed(sampled(inventedAbp, 20), 1260, 1, (sample) => sample + 30);
    const kind = 'map';
    expect(watched(transient, abp, { kind })).toEqual([]);
    expect(watched(transient, abp, { kind, parameters: { abpJumpMmHg: 25 } })).toHaveLength(1);
    expect(watched(transient, changed(icp, 1260, 1, 30), { parameters: { icpJumpMmHg: 40 } })).toEqual([]);
  });
});
