import { describe, expect, it } from 'vitest';
import { coughTrain } from '../../src/clean/cough-train.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const trainsIn = (values: readonly number[], interval = 1) =>
  findWith(coughTrain, recordingOf({ icp: everySeconds(interval, values) })).marks;
const QUIET = [300, 12] as const;
/** A minute of coughs: 4 s at 45 mmHg, 6 s at the level between them. */
const coughs = (between: number, times = 6) =>
  Array.from({ length: times }).flatMap(() => levels([4, 45], [6, between]));

describe('a cough train', () => {
  it('is removed with what lies between its spikes above a baseline that stays put', () => {
    const marks = trainsIn([...levels(QUIET), ...coughs(20), ...levels(QUIET)]);
    expect(spansOf(marks)).toEqual([[300, 359]]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'coughTrain', grade: 'removed' });
  });
  it('leaves the baseline between spikes in', () => {
    const marks = trainsIn([...levels(QUIET), ...coughs(12, 3), ...levels(QUIET)]);
    expect(spansOf(marks)).toEqual([
      [300, 303],
      [310, 313],
      [320, 323],
    ]);
  });
  it('through a high pressure is only its spikes', () => {
    const high = [300, 30] as const;
    const marks = trainsIn([...levels(high), ...coughs(30, 4), ...levels(high)]);
    expect(marks).toHaveLength(4);
    expect(spansOf(marks).every(([first, last]) => last - first === 3)).toBe(true);
  });
  it('that leaves a raised pressure behind is left to the rule for spikes', () => {
    const ebb = levels([240, (k) => 40 - k / 13], [300, 20]);
    expect(trainsIn([...levels(QUIET), ...coughs(38), ...ebb])).toEqual([]);
  });
  it('is of three spikes at least, up to 25 s apart, and of 3 min at most', () => {
    expect(trainsIn([...levels(QUIET), ...coughs(12, 2), ...levels(QUIET)])).toEqual([]);
    const apart = Array.from({ length: 4 }).flatMap(() => levels([4, 45], [30, 12]));
    expect(trainsIn([...levels(QUIET), ...apart, ...levels(QUIET)])).toEqual([]);
    expect(trainsIn([...levels(QUIET), ...coughs(20, 19), ...levels(QUIET)])).toEqual([]);
  });
  it('is not a plateau of two minutes, nor waves', () => {
    expect(trainsIn(levels(QUIET, [120, (k) => 40 + (k % 2)], QUIET))).toEqual([]);
    const waves = levels(QUIET, [1200, (k) => 22 - 10 * Math.cos((2 * Math.PI * k) / 30)], QUIET);
    expect(trainsIn(waves)).toEqual([]);
  });
  it('stands aside at more than 20 s between samples', () => {
    const rare = recordingOf({ icp: everySeconds(60, levels([20, 12])) });
    expect(findWith(coughTrain, rare).stoodAside).toEqual([
      'ICP comes every 60 s; the rule needs 20 s or finer',
    ]);
  });
});
