import { describe, expect, it } from 'vitest';
import { slowTurn } from '../../src/clean/slow-turn.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const turnsIn = (values: readonly number[], interval = 1) =>
  findWith(slowTurn, recordingOf({ icp: everySeconds(interval, values) })).marks;
const QUIET = [600, 12] as const;
/** Up and down within so many seconds, and so long at the top. */
const turn = (flank: number, top: number, rise = 20) =>
  levels(
    QUIET,
    [flank, (k) => 12 + (rise * k) / flank],
    [top, 12 + rise],
    [flank, (k) => 12 + rise - (rise * k) / flank],
    QUIET,
  );

describe('a slow turn', () => {
  it('of up to 90 s that rises and falls at once is removed', () => {
    const marks = turnsIn(turn(10, 65));
    expect(marks).toMatchObject([{ channel: 'icp', rule: 'slowTurn', grade: 'removed' }]);
    const [[first, last]] = spansOf(marks);
    expect(first).toBeGreaterThanOrEqual(600);
    expect(last).toBeLessThanOrEqual(685);
  });
  it('is taken at a sample every 15 s', () => {
    expect(turnsIn(levels([40, 12], [5, 32], [40, 12]), 15)).toHaveLength(1);
  });
  it('that stands for 2 min is left whole', () => {
    expect(turnsIn(turn(10, 120))).toEqual([]);
  });
  it('by less than 12 mmHg is left: so small a rise of a minute may be the patient', () => {
    expect(turnsIn(turn(10, 65, 11))).toEqual([]);
  });
  it('that rises or falls slowly is left', () => {
    expect(turnsIn(turn(44, 1))).toEqual([]);
  });
  it('that leaves another level behind is left', () => {
    expect(turnsIn(levels(QUIET, [70, 40], [600, 26]))).toEqual([]);
  });
  it('is no wave among waves', () => {
    const waves = levels([1800, (k) => 22 + 12 * Math.sign(Math.sin((2 * Math.PI * k) / 120))]);
    expect(turnsIn(waves)).toEqual([]);
  });
});
