import { describe, expect, it } from 'vitest';
import { zeroing } from '../../src/clean/zeroing.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const zeroed = (samples: number, interval = 1) =>
  recordingOf({ icp: everySeconds(interval, levels([60, 14], [samples, 0.3], [60, 15])) });

describe('zeroing', () => {
  it('is ICP near 0, entered and left by a step, and is removed', () => {
    const { marks } = findWith(zeroing, zeroed(46));
    expect(spansOf(marks)).toEqual([[60, 105]]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'zeroing', grade: 'removed' });
  });
  it('of 5 s is taken, of 4 s it is not', () => {
    expect(spansOf(findWith(zeroing, zeroed(6)).marks)).toEqual([[60, 65]]);
    expect(findWith(zeroing, zeroed(5)).marks).toEqual([]);
  });
  it('of 10 min is taken, of 11 min it is not', () => {
    expect(spansOf(findWith(zeroing, zeroed(601)).marks)).toEqual([[60, 660]]);
    expect(findWith(zeroing, zeroed(602)).marks).toEqual([]);
    expect(findWith(zeroing, zeroed(661)).marks).toEqual([]);
  });
  it('is taken with the samples on its flanks', () => {
    const icp = everySeconds(1, levels([60, 14], [1, 6], [1, 2], [20, 0], [1, 3], [60, 14]));
    // 2 and 6 fall towards 0 and belong to the step: the first sample 4 mmHg away from the edge stays outside.
    expect(spansOf(findWith(zeroing, recordingOf({ icp })).marks)).toEqual([[61, 82]]);
  });
  it('is taken at a sample every 5 s', () => {
    expect(spansOf(findWith(zeroing, zeroed(31, 5)).marks)).toEqual([[300, 450]]);
  });
  it('is not an ICP that sinks to 0 slowly and comes back slowly', () => {
    const icp = everySeconds(
      1,
      levels([60, 14], [280, (k) => 14 - k / 20], [60, 0], [280, (k) => k / 20], [60, 14]),
    );
    expect(findWith(zeroing, recordingOf({ icp })).marks).toEqual([]);
  });
  it('is not an ICP that jumps to 0 and stays there to the end, or was there from the start', () => {
    expect(findWith(zeroing, recordingOf({ icp: everySeconds(1, levels([60, 14], [60, 0])) })).marks).toEqual(
      [],
    );
    expect(findWith(zeroing, recordingOf({ icp: everySeconds(1, levels([60, 0], [60, 14])) })).marks).toEqual(
      [],
    );
  });
  it('is not a low true ICP of 2 mmHg', () => {
    const icp = everySeconds(1, levels([60, 14], [60, 2], [60, 14]));
    expect(findWith(zeroing, recordingOf({ icp })).marks).toEqual([]);
  });
  it('stands aside at more than 15 s between samples, and says so', () => {
    expect(findWith(zeroing, zeroed(10, 60))).toEqual({
      marks: [],
      stoodAside: ['ICP comes every 60 s; the rule needs 15 s or finer'],
    });
  });
  it('has nothing to say without ICP', () => {
    expect(findWith(zeroing, recordingOf({ map: everySeconds(1, [80, 0, 80]) }))).toEqual({
      marks: [],
      stoodAside: [],
    });
  });
});
