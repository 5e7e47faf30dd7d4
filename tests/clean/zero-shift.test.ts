import { describe, expect, it } from 'vitest';
import { zeroShift } from '../../src/clean/zero-shift.js';
import type { CareKind } from '../../src/recording/care.js';
import { readThroughDrain, recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds, T0 } from '../support/signals.js';

const shiftsIn = (values: readonly number[]) =>
  findWith(zeroShift, recordingOf({ icp: everySeconds(1, values) })).marks;
const ZERO = [60, 0.2] as const;

describe('another level since a zeroing', () => {
  it('is suspect until the next zeroing, which brings it back', () => {
    const marks = shiftsIn(levels([900, 16], ZERO, [1800, 8], ZERO, [900, 16]));
    expect(marks).toMatchObject([{ rule: 'zeroShift', grade: 'suspect', direction: 'down' }]);
    const [[from, to]] = spansOf(marks);
    expect([Math.floor(from), Math.ceil(to)]).toEqual([959, 2760]);
  });
  it('upward is suspect, upward', () => {
    expect(shiftsIn(levels([900, 10], ZERO, [1800, 20]))).toMatchObject([{ direction: 'up' }]);
  });
  it('is one of 6 mmHg or more', () => {
    expect(shiftsIn(levels([900, 16], ZERO, [1800, 10]))).toHaveLength(1);
    expect(shiftsIn(levels([900, 16], ZERO, [1800, 10.1]))).toEqual([]);
  });
  it('ends after 12 h where nobody zeroes again', () => {
    const [[from, to]] = spansOf(shiftsIn(levels([900, 16], ZERO, [14 * 3600, 8])));
    expect((to - from) / 3600).toBeCloseTo(12, 3);
  });
  it('is no shift where only the drip chamber read another level before', () => {
    const at = (second: number, kind: CareKind) => ({
      start: T0 + second * 1000,
      end: null,
      kinds: [kind],
      angleDegrees: null,
    });
    const care = [at(600, 'drainOpen'), at(1699, 'drainClosed')];
    const drain = (after: number) =>
      readThroughDrain(
        recordingOf({ icp: everySeconds(1, levels([600, 16], [1100, 8], [700, 16], ZERO, [1800, after])) }),
      );
    const shifts = (after: number, log?: typeof care) =>
      findWith(zeroShift, { ...drain(after), ...(log && { care: log }) }).marks;
    expect(shifts(16, care)).toEqual([]);
    expect(shifts(8, care)).toMatchObject([{ direction: 'down' }]);
    // Without the log the chamber is a level like any other: ICP did not stand for 30 min.
    expect(shifts(8)).toEqual([]);
  });
});
