import { describe, expect, it } from 'vitest';
import { disconnected } from '../../src/clean/disconnected.js';
import { withoutIntervals } from '../../src/recording/signal.js';
import { recordingOf } from '../support/recordings.js';
import { findWith } from '../support/rules.js';
import { seconds } from '../support/shapes.js';
import { everySeconds } from '../support/signals.js';

const gap = everySeconds(1, [10, 11, ...Array(20).fill(Number.NaN), 12, 13]);

describe('disconnected stretches', () => {
  it('are those in which rows came with blanks, without the samples at both ends', () => {
    const { marks } = findWith(disconnected, recordingOf({ icp: gap, map: gap }, { icp: [seconds(1, 22)] }));
    expect(marks).toEqual([
      {
        channel: 'icp',
        rule: 'disconnected',
        grade: 'removed',
        start: seconds(1, 1).start + 1,
        end: seconds(22, 22).start - 1,
      },
    ]);
    expect(withoutIntervals(gap, marks).known).toEqual(gap.known);
  });
  it('are not holes in which no row came', () => {
    expect(findWith(disconnected, recordingOf({ icp: gap })).marks).toEqual([]);
  });
});
