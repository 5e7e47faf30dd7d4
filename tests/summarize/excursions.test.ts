import { describe, expect, it } from 'vitest';
import type { Mark } from '../../src/clean/rule.js';
import { largeExcursions } from '../../src/summarize/excursions.js';
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

describe('removed excursions that are listed one by one', () => {
  it('rise 40 mmHg or more over the median of the 2 min before', () => {
    expect(largeExcursions(withLevel(52), [mark(300, 309)])).toEqual([
      { ...seconds(300, 309), rule: 'briefSpike', highestMmHg: 52, riseMmHg: 40 },
    ]);
    expect(largeExcursions(withLevel(51.9), [mark(300, 309)])).toEqual([]);
  });
  it('are removed ones of ICP, not suspect ones and not those of MAP', () => {
    const signal = withLevel(90);
    expect(largeExcursions(signal, [mark(300, 309, { grade: 'suspect', direction: 'up' })])).toEqual([]);
    expect(largeExcursions(signal, [mark(300, 309, { channel: 'map' })])).toEqual([]);
  });
  it('are measured from the lowest value inside where nothing stood before', () => {
    const signal = everySeconds(1, [60, 15, 15, 15]);
    expect(largeExcursions(signal, [mark(0, 1)])).toEqual([
      { ...seconds(0, 1), rule: 'briefSpike', highestMmHg: 60, riseMmHg: 45 },
    ]);
  });
  it('are none where a mark holds no sample', () => {
    expect(largeExcursions(withLevel(90), [mark(9000, 9100)])).toEqual([]);
  });
  it('come in the order of the marks', () => {
    const values = Array.from({ length: 601 }, (_, i) => (i % 200 === 199 ? 90 : 12));
    const found = largeExcursions(everySeconds(1, values), [mark(199, 199), mark(399, 399)]);
    expect(found.map(({ start }) => start)).toEqual([seconds(199, 0).start, seconds(399, 0).start]);
  });
});
