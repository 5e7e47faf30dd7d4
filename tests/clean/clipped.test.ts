import { describe, expect, it } from 'vitest';
import { clipped } from '../../src/clean/clipped.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const clippedIn = (values: readonly number[]) =>
  findWith(clipped, recordingOf({ icp: everySeconds(1, values) })).marks;
const wobble = (level: number) => (k: number) => level + ((k * 7) % 5) / 10;

describe('a channel held at the end of its scale', () => {
  it('is suspect upward at the ceiling: the pressure is at least that', () => {
    const values = levels(
      [600, wobble(20)],
      [60, 40],
      [5, wobble(39)],
      [40, 40],
      [600, wobble(20)],
      [20, 40],
      [60, wobble(20)],
    );
    const marks = clippedIn(values);
    expect(spansOf(marks)).toEqual([
      [600, 704],
      [1305, 1324],
    ]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'clipped', grade: 'suspect', direction: 'up' });
  });
  it('is suspect downward at the floor', () => {
    const values = levels(
      [600, wobble(5)],
      [60, 0],
      [300, wobble(5)],
      [60, 0],
      [300, wobble(5)],
      [60, 0],
      [60, wobble(5)],
    );
    expect(clippedIn(values)).toMatchObject(Array(3).fill({ rule: 'clipped', direction: 'down' }));
  });
  it('is not one that only has a highest value', () => {
    expect(clippedIn(levels([600, wobble(20)], [3, 41], [600, wobble(20)]))).toEqual([]);
    expect(clippedIn(levels([2000, (k) => 20 + 10 * Math.sin(k / 40)]))).toEqual([]);
  });
  it('is not a value that froze once', () => {
    expect(clippedIn(levels([600, wobble(20)], [400, 41], [600, wobble(20)]))).toEqual([]);
  });
  it('is not a calm patient in whole numbers, who comes back to a highest and a lowest value', () => {
    const calm = Array.from({ length: 60 }, (_, k) =>
      levels([100, 9], [100, 10], [100 + (k % 3), 11], [100, 10]),
    ).flat();
    expect(clippedIn(calm)).toEqual([]);
  });
  it('is not the top of a range that thins out upward', () => {
    // 30 is met often and held for half a minute, but 29 is held longer: nothing is cut off.
    const high = Array.from({ length: 12 }, () =>
      levels([300, wobble(12)], [120, 29], [40, 30], [120, 29]),
    ).flat();
    expect(clippedIn(high)).toEqual([]);
  });
});
