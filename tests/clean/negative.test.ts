import { describe, expect, it } from 'vitest';
import { negative } from '../../src/clean/negative.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const QUIET = [60, 8] as const;
const negativeIn = (values: readonly number[], interval = 1) =>
  findWith(negative, recordingOf({ icp: everySeconds(interval, values) })).marks;

describe('negative ICP', () => {
  it('for 5 min is suspect, downward', () => {
    const marks = negativeIn(levels(QUIET, [301, -2], QUIET));
    expect(spansOf(marks)).toEqual([[60, 360]]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'negative', grade: 'suspect', direction: 'down' });
  });
  it('for 4 min 59 s from the first sample to the last is not', () => {
    expect(negativeIn(levels(QUIET, [300, -2], QUIET))).toEqual([]);
  });
  it('to the end of the recording is suspect', () => {
    expect(spansOf(negativeIn(levels(QUIET, [900, -2])))).toEqual([[60, 959]]);
  });
  it('is not ICP on exactly 0', () => {
    expect(negativeIn(levels(QUIET, [600, 0], QUIET))).toEqual([]);
  });
  it('goes on over values back over 0 for 30 s, and ends with longer ones', () => {
    const marks = (samplesOver: number) =>
      spansOf(negativeIn(levels(QUIET, [200, -2], [samplesOver, 3], [200, -2], QUIET)));
    expect(marks(30)).toEqual([[60, 489]]);
    expect(marks(31)).toEqual([]);
  });
  it('is not single samples under 0 that are 30 s apart', () => {
    const peaks = Array.from({ length: 12 }, () => levels([1, -1], [29, 6])).flat();
    expect(negativeIn(levels(QUIET).concat(peaks, levels(QUIET)))).toEqual([]);
  });
  it('ends at a hole', () => {
    expect(negativeIn(levels(QUIET, [200, -2], [10, Number.NaN], [200, -2], QUIET))).toEqual([]);
    expect(spansOf(negativeIn(levels(QUIET, [400, -2], [10, Number.NaN], [400, -2], QUIET)))).toEqual([
      [60, 459],
      [470, 869],
    ]);
  });
  it('is seen in minute data', () => {
    expect(spansOf(negativeIn(levels([10, 8], [6, -2], [10, 8]), 60))).toEqual([[600, 900]]);
  });
  it('stands aside at more than 100 s between samples, and says so', () => {
    expect(findWith(negative, recordingOf({ icp: everySeconds(120, levels([9, 8], [9, -2])) }))).toEqual({
      marks: [],
      stoodAside: ['ICP comes every 120 s; the rule needs 100 s or finer'],
    });
  });
});
