import { describe, expect, it } from 'vitest';
import { drift } from '../../src/clean/drift.js';
import type { CareEntry } from '../../src/recording/care.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds, T0 } from '../support/signals.js';

const HOUR = 60;
const between = (icp: readonly number[], icpDrain: readonly number[], care?: readonly CareEntry[]) => {
  const recording = recordingOf({ icp: everySeconds(60, icp), icpDrain: everySeconds(60, icpDrain) });
  return findWith(drift, { ...recording, care }).marks;
};
const steady = levels([24 * HOUR, (k) => 12 + (k % 5) / 5]);

describe('a probe that drifts against the drain', () => {
  it('is suspect from where the two have parted by 4 mmHg', () => {
    const drifting = steady.map((x, k) => x + Math.max(0, (k - 4 * HOUR) / HOUR));
    const marks = between(drifting, steady);
    expect(marks).toMatchObject([{ channel: 'icp', rule: 'drift', grade: 'suspect', direction: 'up' }]);
    const [[from, to]] = spansOf(marks);
    expect(from / 3600).toBeCloseTo(8, 0);
    expect(to / 3600).toBeCloseTo(24, 0);
  });
  it('downward is left out', () => {
    const drifting = steady.map((x, k) => x - Math.max(0, (k - 4 * HOUR) / HOUR));
    expect(between(drifting, steady)).toMatchObject([{ direction: 'down' }]);
  });
  it('is not a constant difference, nor one that jumps: that is a zero or a stopcock', () => {
    expect(
      between(
        steady.map((x) => x + 7),
        steady,
      ),
    ).toEqual([]);
    expect(
      between(
        steady,
        steady.map((x, k) => (k > 6 * HOUR && k < 9 * HOUR ? 5 : x)),
      ),
    ).toEqual([]);
  });
  it('is not a change that both show', () => {
    const rising = steady.map((x, k) => x + k / HOUR);
    expect(between(rising, rising)).toEqual([]);
  });
  it('is not looked for while the drain is open', () => {
    const open: CareEntry = {
      start: T0 + 4 * 3_600_000,
      end: null,
      kinds: ['drainOpen'],
      angleDegrees: null,
    };
    const emptying = steady.map((x, k) => x - Math.max(0, (k - 4 * HOUR) / HOUR));
    expect(between(steady, emptying, [open])).toEqual([]);
  });
  it('is not judged where the two do not move together: a drain that is open and nobody logged', () => {
    const chamber = steady.map((x, k) => (k > 6 * HOUR ? 14 - (k - 6 * HOUR) / HOUR : x));
    expect(between(steady, chamber)).toEqual([]);
  });
  it('ends where the difference is back', () => {
    const drifting = steady.map((x, k) => (k > 14 * HOUR ? x : x + Math.max(0, (k - 4 * HOUR) / HOUR)));
    const [[, to]] = spansOf(between(drifting, steady));
    expect(to / 3600).toBeCloseTo(14, 0);
  });
  it('needs a second source', () => {
    const alone = recordingOf({ icp: everySeconds(60, steady) });
    expect(findWith(drift, alone)).toEqual({ marks: [], stoodAside: [] });
  });
});
