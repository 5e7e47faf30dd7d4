import { describe, expect, it } from 'vitest';
import { flush } from '../../src/clean/flush.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const QUIET = [120, 85] as const;
const flushesIn = (values: readonly number[], interval = 1) =>
  findWith(flush, recordingOf({ map: everySeconds(interval, values) })).marks;

describe('a flush of the arterial line', () => {
  it('is a jump of MAP to a flat plateau and back, and is removed from MAP', () => {
    const marks = flushesIn(levels(QUIET, [20, (k) => 240 + (k % 3)], QUIET));
    expect(spansOf(marks)).toEqual([[120, 139]]);
    expect(marks[0]).toMatchObject({ channel: 'map', rule: 'flush', grade: 'removed' });
  });
  it('leaves the samples before and after it alone, at a noisy pressure too', () => {
    const noisy = (k: number) => 85 + ((k * 7) % 5) - 2;
    const marks = flushesIn(levels([120, noisy], [20, 240], [120, noisy]));
    expect(spansOf(marks)).toEqual([[120, 139]]);
  });
  it('is taken with its flank on the way up', () => {
    const marks = flushesIn(levels(QUIET, [1, 130], [1, 190], [20, 240], QUIET));
    expect(spansOf(marks)).toEqual([[120, 141]]);
  });
  it('of 40 mmHg is taken, of 39 mmHg it is not', () => {
    expect(flushesIn(levels(QUIET, [20, 125], QUIET))).toHaveLength(1);
    expect(flushesIn(levels(QUIET, [20, 124], QUIET))).toEqual([]);
  });
  it('is taken at a sample every 5 s', () => {
    expect(spansOf(flushesIn(levels([40, 85], [5, 240], [40, 85]), 5))).toEqual([[200, 220]]);
  });
  it('is not a rise that is not flat', () => {
    expect(flushesIn(levels(QUIET, [20, (k) => 130 + 4 * (k % 5)], QUIET))).toEqual([]);
  });
  it('is not a plateau that lasts longer than 3 min, or one that stays', () => {
    expect(flushesIn(levels(QUIET, [181, 240], QUIET))).toEqual([]);
    expect(flushesIn(levels(QUIET, [600, 240]))).toEqual([]);
  });
  it('that is back within 3 min is taken', () => {
    expect(flushesIn(levels(QUIET, [179, 240], QUIET))).toHaveLength(1);
  });
  it('is not a rise that takes longer than 5 s', () => {
    expect(flushesIn(levels(QUIET, [30, (k) => 85 + 5 * (k + 1)], [20, 240], QUIET))).toEqual([]);
  });
  it('stands aside at more than 15 s between samples, and says so', () => {
    expect(
      findWith(flush, recordingOf({ map: everySeconds(60, levels([9, 85], [1, 240], [9, 85])) })),
    ).toEqual({
      marks: [],
      stoodAside: ['MAP comes every 60 s; the rule needs 15 s or finer'],
    });
  });
  it('has nothing to say without MAP', () => {
    expect(findWith(flush, recordingOf({ icp: everySeconds(1, [10, 90, 10]) }))).toEqual({
      marks: [],
      stoodAside: [],
    });
  });
});
