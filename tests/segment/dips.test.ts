import { describe, expect, it } from 'vitest';
import { findEpisodes } from '../../src/segment/episodes.js';
import { type Stretch, stretchesAround22 } from '../support/excursions.js';
import { everySeconds, T0 } from '../support/signals.js';
import { OVER_22 } from '../support/targets.js';

const at = (seconds: number): number => T0 + seconds * 1000;
const spans = (...stretches: Stretch[]): number[][] =>
  findEpisodes(stretchesAround22(...stretches), OVER_22).episodes.map(({ start, end }) => [
    (start - T0) / 1000,
    (end - T0) / 1000,
  ]);

describe('a dip below the threshold', () => {
  it('of 30 s does not end an episode', () => {
    expect(spans(['below', 60], ['above', 200], ['below', 30], ['above', 200], ['below', 60])).toEqual([
      [60, 490],
    ]);
  });
  it('of 31 s ends it', () => {
    expect(spans(['below', 60], ['above', 200], ['below', 31], ['above', 200], ['below', 60])).toEqual([]);
    expect(spans(['below', 60], ['above', 320], ['below', 31], ['above', 320], ['below', 60])).toEqual([
      [60, 380],
      [411, 731],
    ]);
  });
  it('of 30 s and one of 31 s at 1 Hz, between exact crossings', () => {
    const dip = (length: number) =>
      everySeconds(
        1,
        Array.from({ length: 800 }, (_, s) => {
          if (s < 100 || s > 700) return 12;
          if (s === 100 || s === 700 || s === 400 || s === 400 + length) return 22;
          return s > 400 && s < 400 + length ? 12 : 32;
        }),
      );
    expect(findEpisodes(dip(30), OVER_22).episodes).toEqual([
      { start: at(100), end: at(700), openStart: false, openEnd: false },
    ]);
    expect(findEpisodes(dip(31), OVER_22).episodes).toEqual([
      { start: at(100), end: at(400), openStart: false, openEnd: false },
    ]);
  });
  it('belongs to the duration: 4 min and 40 s above make 5 min with 20 s of dips', () => {
    expect(spans(['below', 60], ['above', 140], ['below', 20], ['above', 140], ['below', 60])).toEqual([
      [60, 360],
    ]);
  });
  it('may come again and again while 80 % of the time is above', () => {
    const wave: Stretch[] = Array.from({ length: 10 }, () => [
      ['above', 80] as const,
      ['below', 20] as const,
    ]).flat();
    // 10 x 80 s above and 9 dips of 20 s: 800 of 980 s.
    expect(spans(['below', 60], ...wave)).toEqual([[60, 1040]]);
  });
  it('takes what was not 80 % above away: the longest part that is stays', () => {
    const wave: Stretch[] = Array.from({ length: 4 }, () => [
      ['above', 75] as const,
      ['below', 25] as const,
    ]).flat();
    // 75/(75 + 25) is under 80 %: 300 of 375 s is exactly that.
    expect(spans(['below', 60], ...wave)).toEqual([[60, 435]]);
    const longer: Stretch[] = Array.from({ length: 8 }, () => [
      ['above', 75] as const,
      ['below', 25] as const,
    ]).flat();
    expect(spans(['below', 60], ...longer)).toEqual([
      [60, 435],
      [460, 835],
    ]);
  });
});

describe('scattered peaks', () => {
  const peaks = (count: number): Stretch[] =>
    Array.from({ length: count }, () => [['above', 1] as const, ['below', 29] as const]).flat();

  it('eleven of one second, 30 s apart, are no episode', () => {
    expect(spans(['below', 60], ...peaks(11))).toEqual([]);
  });
  it('eleven of one second, 30 s apart, are no episode at 1 Hz either', () => {
    const values = Array.from({ length: 500 }, (_, s) => (s >= 60 && s <= 360 && s % 30 === 0 ? 32 : 12));
    expect(findEpisodes(everySeconds(1, values), OVER_22)).toEqual({ episodes: [], undetermined: [] });
  });
  it('that hang on a solid stretch of 6 min do not hide it', () => {
    const found = spans(['below', 60], ...peaks(11), ['above', 360], ['below', 29], ...peaks(11));
    expect(found).toHaveLength(1);
    const [[from, to]] = found;
    expect(from).toBeLessThanOrEqual(390);
    expect(to).toBeGreaterThanOrEqual(750);
    // What came along still leaves 80 % above: at most 90 s more than the stretch.
    expect(to - from).toBeLessThanOrEqual(450);
  });
  it('between two solid stretches do not tie them into one', () => {
    const found = spans(
      ['below', 60],
      ['above', 320],
      ['below', 29],
      ...peaks(20),
      ['above', 320],
      ['below', 60],
    );
    expect(found).toHaveLength(2);
    expect(found[0][0]).toBe(60);
    expect(found[1][1]).toBe(60 + 320 + 29 + 600 + 320);
  });
});
