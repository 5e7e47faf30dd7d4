import { describe, expect, it } from 'vitest';
import { damped } from '../../src/clean/damped.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

/** A level with a scatter of fixed pattern, rounded as a monitor does. */
const scattered = (level: number, scatter: number) => (k: number) =>
  Math.round((level + scatter * (((k * 37) % 11) / 5 - 1)) * 10) / 10;
const dampedIn = (values: readonly number[], interval = 1) =>
  findWith(damped, recordingOf({ icp: everySeconds(interval, values) }));

describe('a damped channel', () => {
  it('is one whose scatter is lost for 10 min or more while the pressure stands; it is suspect and stays in', () => {
    const { marks } = dampedIn(
      levels([7200, scattered(12, 1)], [1800, scattered(12, 0.2)], [3600, scattered(12, 1)]),
    );
    expect(spansOf(marks)).toEqual([[7200, 8999]]);
    expect(marks[0]).toMatchObject({ rule: 'damped', grade: 'suspect', direction: 'up' });
  });
  it('is left out where the level fell as well', () => {
    const { marks } = dampedIn(
      levels([7200, scattered(16, 1)], [1800, scattered(3, 0.2)], [3600, scattered(16, 1)]),
    );
    expect(marks).toMatchObject([{ direction: 'down' }]);
  });
  it('is not one that is calm for 8 min, or half as lively', () => {
    expect(
      dampedIn(levels([7200, scattered(12, 1)], [480, scattered(12, 0.2)], [3600, scattered(12, 1)])).marks,
    ).toEqual([]);
    expect(
      dampedIn(levels([7200, scattered(12, 1)], [1800, scattered(12, 0.6)], [3600, scattered(12, 1)])).marks,
    ).toEqual([]);
  });
  it('stays one through a cough', () => {
    const calm = scattered(12, 0.2);
    const { marks } = dampedIn(
      levels([7200, scattered(12, 1)], [900, calm], [6, 40], [894, calm], [3600, scattered(12, 1)]),
    );
    expect(spansOf(marks)).toEqual([[7200, 8999]]);
  });
  it('cannot be told where the monitor hardly ever shows a change', () => {
    const { marks, stoodAside } = dampedIn(levels([7200, 12], [1, 13], [7200, 12]));
    expect(marks).toEqual([]);
    expect(stoodAside).toEqual([
      'ICP hardly changes from sample to sample in steps of the monitor; a loss of scatter would not show',
    ]);
  });
  it('needs a sample every 15 s', () => {
    expect(dampedIn(levels([100, 12]), 60).stoodAside).toEqual([
      'ICP comes every 60 s; the rule needs 15 s or finer',
    ]);
  });
});
