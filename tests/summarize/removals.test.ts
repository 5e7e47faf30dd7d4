import { describe, expect, it } from 'vitest';
import type { Mark } from '../../src/clean/rule.js';
import { largeExcursions, largestRemovals, removalsOf } from '../../src/summarize/removals.js';
import { seconds } from '../support/shapes.js';
import { everySeconds } from '../support/signals.js';

/** 12 mmHg, with one stretch of ten seconds at another level from second 300 on. */
const withLevel = (level: number) =>
  everySeconds(
    1,
    Array.from({ length: 601 }, (_, i) => (i >= 300 && i < 310 ? level : 12)),
  );
const mark = (from: number, to: number, more: Partial<Mark> = {}): Mark => ({
  channel: 'icp',
  rule: 'briefSpike',
  grade: 'removed',
  ...seconds(from, to),
  ...more,
});

describe('what was removed, one by one', () => {
  it('has its level before, its extremes and its area over that level, with the pieces at both ends', () => {
    const [removal] = removalsOf(withLevel(52), [mark(300, 309)]);
    expect(removal).toEqual({
      ...seconds(300, 309),
      rules: ['briefSpike'],
      decidedBy: [],
      evidence: [],
      baselineMmHg: 12,
      highestMmHg: 52,
      lowestMmHg: 52,
      riseMmHg: 40,
      // A trapezium: 9 s at the top, 11 s at the foot, 40 mmHg high.
      areaMmHgMinutes: expect.closeTo((40 * (9 + 11)) / 2 / 60, 9),
    });
  });
  it('has an area where it is a single sample, and where it falls', () => {
    const values = Array.from({ length: 601 }, (_, i) => (i === 300 ? 52 : i >= 400 && i <= 410 ? 0 : 12));
    const [spike, fall] = removalsOf(everySeconds(15, values), [
      mark(4500, 4500),
      mark(6000, 6150, { rule: 'zeroing' }),
    ]);
    expect(spike.areaMmHgMinutes).toBeCloseTo((40 * 30) / 2 / 60, 9);
    expect(fall).toMatchObject({ highestMmHg: 0, lowestMmHg: 0, riseMmHg: -12 });
    expect(fall.areaMmHgMinutes).toBeCloseTo((12 * (150 + 180)) / 2 / 60, 9);
  });
  it('is one where rules share samples, with all of them, their evidence and who decided', () => {
    const care = { kind: 'suction', at: seconds(290, 0).start } as const;
    const removals = removalsOf(withLevel(52), [
      mark(300, 305, { rule: 'handling', evidence: { care } }),
      mark(305, 309, { evidence: { mapRiseMmHg: 12 } }),
      mark(303, 304, { rule: 'reviewed', decidedBy: 'AB' }),
      mark(500, 501),
    ]);
    expect(removals).toHaveLength(2);
    expect(removals[0]).toMatchObject({
      ...seconds(300, 309),
      rules: ['reviewed', 'briefSpike', 'handling'],
      decidedBy: ['AB'],
      evidence: [{ care }, { mapRiseMmHg: 12 }],
    });
  });
  it('is measured against what was kept before, not against the cough before', () => {
    const values = Array.from({ length: 601 }, (_, i) => (i >= 180 && i < 300 ? 60 : i === 301 ? 50 : 12));
    const [, second] = removalsOf(everySeconds(1, values), [mark(180, 299), mark(301, 301)]);
    expect(second).toMatchObject({ baselineMmHg: 12, riseMmHg: 38 });
  });
  it('is measured against what follows where nothing stood before, and else from its lowest', () => {
    const signal = everySeconds(1, [60, 18, 15, 15]);
    expect(removalsOf(signal, [mark(0, 1)])[0]).toMatchObject({ baselineMmHg: 15, riseMmHg: 45 });
    expect(removalsOf(signal, [mark(0, 3)])[0]).toMatchObject({ baselineMmHg: 15, riseMmHg: 45 });
  });
  it('is removed ICP: not suspect, not MAP, not without a sample', () => {
    const signal = withLevel(90);
    expect(removalsOf(signal, [mark(300, 309, { grade: 'suspect', direction: 'up' })])).toEqual([]);
    expect(removalsOf(signal, [mark(300, 309, { channel: 'map' })])).toEqual([]);
    expect(removalsOf(signal, [mark(9000, 9100)])).toEqual([]);
  });
});

describe('the largest removals', () => {
  it('are ten, by area, the largest first', () => {
    const values = Array.from({ length: 3601 }, (_, i) => {
      const k = Math.floor(i / 300);
      return i % 300 >= 200 && i % 300 < 210 ? 20 + k : 12;
    });
    const marks = Array.from({ length: 12 }, (_, k) => mark(k * 300 + 200, k * 300 + 209));
    const largest = largestRemovals(removalsOf(everySeconds(1, values), marks));
    expect(largest.map(({ highestMmHg }) => highestMmHg)).toEqual([31, 30, 29, 28, 27, 26, 25, 24, 23, 22]);
  });
  it('are not those of the highest sample: a long fall outweighs a cough', () => {
    const values = Array.from({ length: 1201 }, (_, i) => (i === 300 ? 70 : i >= 600 && i < 900 ? 0 : 12));
    const removals = removalsOf(everySeconds(1, values), [
      mark(300, 300),
      mark(600, 899, { rule: 'zeroing' }),
    ]);
    expect(largestRemovals(removals).map(({ rules }) => rules[0])).toEqual(['zeroing', 'briefSpike']);
  });
});

describe('removed excursions that are listed whatever their number', () => {
  it('rise 40 mmHg or more over the level before', () => {
    expect(largeExcursions(removalsOf(withLevel(52), [mark(300, 309)]))).toHaveLength(1);
    expect(largeExcursions(removalsOf(withLevel(51.9), [mark(300, 309)]))).toEqual([]);
  });
  it('come in the order of time', () => {
    const values = Array.from({ length: 601 }, (_, i) => (i === 199 ? 80 : i === 399 ? 90 : 12));
    const removals = removalsOf(everySeconds(1, values), [mark(399, 399), mark(199, 199)]);
    expect(largeExcursions(removals).map(({ highestMmHg }) => highestMmHg)).toEqual([80, 90]);
  });
});
