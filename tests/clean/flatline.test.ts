import { describe, expect, it } from 'vitest';
import { flatline } from '../../src/clean/flatline.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const flatIn = (icp: readonly number[], interval = 1, map?: readonly number[]) =>
  findWith(
    flatline,
    recordingOf({ icp: everySeconds(interval, icp), ...(map && { map: everySeconds(interval, map) }) }),
  ).marks;
const alive = (seconds: number) => [seconds, (k: number) => 12 + (k % 7) / 10] as const;

describe('a flat line', () => {
  it('is the same value for 5 min, and is removed', () => {
    const marks = flatIn(levels(alive(900), [302, 14.2], alive(900)));
    expect(spansOf(marks)).toEqual([[900, 1201]]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'flatline', grade: 'removed' });
  });
  it('of less than 5 min is left', () => {
    expect(flatIn(levels(alive(900), [290, 14.2], alive(900)))).toEqual([]);
  });
  it('is left where the channel often repeats itself: in whole numbers at a sample a minute', () => {
    // Six neighbours of ten are equal, so five repeats come by chance in eight of a hundred runs.
    const calm = Array.from({ length: 400 }, (_, k) => 12 + (Math.floor(k / 2.5) % 2));
    expect(flatIn([...calm, ...levels([6, 15]), ...calm], 60)).toEqual([]);
    expect(flatIn([...calm, ...levels([40, 15]), ...calm], 60)).toHaveLength(1);
  });
  it('is not one where a slow wander in whole numbers keeps its value for minutes', () => {
    // Between two values it flickers for a minute and a half, on a value it stays for three to eight minutes.
    const wander = Array.from({ length: 40 }, (_, k) => {
      const [value, next] = [10 + (k % 3), 10 + ((k + 1) % 3)];
      return levels([180 + ((k * 7) % 6) * 60, value], [90, (i) => (i % 2 ? value : next)]);
    }).flat();
    expect(flatIn(wander)).toEqual([]);
    // An hour of one value is frozen even here.
    expect(flatIn([...wander, ...levels([10_800, 11]), ...wander])).toHaveLength(1);
  });
  it('does not reach over a hole', () => {
    expect(flatIn(levels(alive(900), [200, 14.2], [60, Number.NaN], [200, 14.2], alive(900)))).toEqual([]);
  });
  it('at the ceiling of the channel is no frozen value', () => {
    const up = levels(alive(300), [400, 40], alive(300));
    expect(flatIn([...up, ...up, ...up])).toEqual([]);
  });
  it('is a channel that never lived, from its first sample to its last', () => {
    expect(spansOf(flatIn(levels([3600, 12])))).toEqual([[0, 3599]]);
    expect(spansOf(flatIn(levels([7200, 12], [7200, 30])))).toEqual([
      [0, 7199],
      [7200, 14399],
    ]);
    // A sample a minute in whole numbers may well repeat for an hour.
    expect(flatIn(levels([60, 12]), 60)).toEqual([]);
  });
  it('is found in MAP too', () => {
    const map = levels([900, (k) => 80 + (k % 3)], [400, 83], [900, (k) => 80 + (k % 3)]);
    const marks = flatIn(levels(alive(2200)), 1, map);
    expect(marks).toMatchObject([{ channel: 'map', rule: 'flatline' }]);
  });
});
