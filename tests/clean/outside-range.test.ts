import { describe, expect, it } from 'vitest';
import { outsideRange } from '../../src/clean/outside-range.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, spansOf } from '../support/rules.js';
import { everySeconds, T0 } from '../support/signals.js';

describe('values outside the measuring range', () => {
  it('of ICP are those under -20 and over 150 mmHg; the limits themselves are inside', () => {
    const icp = everySeconds(1, [10, -20, -20.1, 10, 150, 150.1, 151, 10]);
    const { marks } = findWith(outsideRange, recordingOf({ icp }));
    expect(spansOf(marks)).toEqual([
      [2, 2],
      [5, 6],
    ]);
    expect(marks[0]).toEqual({
      channel: 'icp',
      rule: 'outsideRange',
      grade: 'removed',
      start: T0 + 2000,
      end: T0 + 2000,
    });
  });
  it('of arterial pressures are those under 0 and over 300 mmHg', () => {
    const abp = everySeconds(1, [80, 0, -1, 300, 301, 80]);
    const { marks } = findWith(outsideRange, recordingOf({ map: abp, sbp: abp, dbp: abp }));
    expect(marks.map(({ channel }) => channel)).toEqual(['map', 'map', 'sbp', 'sbp', 'dbp', 'dbp']);
    expect(spansOf(marks.slice(0, 2))).toEqual([
      [2, 2],
      [4, 4],
    ]);
  });
  it('are looked for at any sampling', () => {
    const icp = everySeconds(600, [10, 999, 10]);
    const finding = findWith(outsideRange, recordingOf({ icp }));
    expect(spansOf(finding.marks)).toEqual([[600, 600]]);
    expect(finding.stoodAside).toEqual([]);
  });
  it('follow limits that are set', () => {
    const icp = everySeconds(1, [10, 90, 10]);
    expect(findWith(outsideRange, recordingOf({ icp }), { icpHighestMmHg: 80 }).marks).toHaveLength(1);
  });
  it('are none in a recording that keeps its limits', () => {
    expect(findWith(outsideRange, recordingOf({ icp: everySeconds(1, [10, -5, 60]) })).marks).toEqual([]);
  });
});
