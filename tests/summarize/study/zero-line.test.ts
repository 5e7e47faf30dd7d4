import { describe, expect, it } from 'vitest';
import { zeroCrossings } from '../../../src/summarize/study/zero-line.js';

const MINUTES = [1, 2, 5, 10, 20];

describe('durations at which a correlation changes its sign', () => {
  it('lie on the line between two cells', () => {
    // 0.3 at 2 min, -0.1 at 5 min: three quarters of the way.
    expect(zeroCrossings(MINUTES, [0.4, 0.3, -0.1, -0.2, -0.3])).toEqual([2 + 3 * 0.75]);
  });
  it('may be several, or none', () => {
    expect(zeroCrossings(MINUTES, [0.1, -0.1, 0.1, 0.2, -0.2])).toEqual([1.5, 3.5, 15]);
    expect(zeroCrossings(MINUTES, [0.1, 0.2, 0.1, 0.2, 0.2])).toEqual([]);
    expect(zeroCrossings([], [])).toEqual([]);
  });
  it('are never drawn over a blank cell', () => {
    expect(zeroCrossings(MINUTES, [0.1, null, -0.1, -0.2, null])).toEqual([]);
  });
  it('are a cell of exactly 0 itself, the middle of several, and none where the sign comes back', () => {
    expect(zeroCrossings(MINUTES, [0.1, 0, -0.1, -0.2, -0.2])).toEqual([2]);
    expect(zeroCrossings(MINUTES, [0.1, 0, 0, -0.2, -0.2])).toEqual([3.5]);
    expect(zeroCrossings(MINUTES, [0.1, 0, 0.1, 0, 0])).toEqual([]);
    expect(zeroCrossings(MINUTES, [0.1, 0, null, -0.1, 0])).toEqual([]);
  });
});
