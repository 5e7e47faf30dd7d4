import { describe, expect, it } from 'vitest';
import { briefSpike } from '../../src/clean/brief-spike.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const spikesIn = (values: readonly number[], interval = 1) =>
  findWith(briefSpike, recordingOf({ icp: everySeconds(interval, values) })).marks;
const QUIET = [300, 12] as const;
/** Seconds from 300 on that stand over the baseline by so much. */
const risen = (seconds: number, rise: number) => levels(QUIET, [seconds, 12 + rise], QUIET);

describe('a brief spike', () => {
  it('is a rise of 8 mmHg or more that falls back at once, and is removed', () => {
    const marks = spikesIn(risen(8, 20));
    expect(spansOf(marks)).toEqual([[300, 307]]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'briefSpike', grade: 'removed' });
  });
  it('of 8 mmHg is taken, of 7.9 mmHg it is not', () => {
    expect(spikesIn(risen(8, 8))).toHaveLength(1);
    expect(spikesIn(risen(8, 7.9))).toEqual([]);
  });
  it('that is back after 60 s is taken whole, one that is back after 61 s is left whole', () => {
    expect(spansOf(spikesIn(risen(60, 20)))).toEqual([[300, 359]]);
    expect(spikesIn(risen(61, 20))).toEqual([]);
  });
  it('of a single sample is taken', () => {
    expect(spansOf(spikesIn(risen(1, 20)))).toEqual([[300, 300]]);
  });
  it('is taken with its flanks, and leaves the samples beside it alone', () => {
    const cough = levels(QUIET, [1, 15], [1, 22], [1, 36], [1, 30], [1, 24], [1, 17], [1, 14.5], QUIET);
    expect(spansOf(spikesIn(cough))).toEqual([[300, 306]]);
  });
  it('is each of several coughs, 20 s apart', () => {
    const coughs = levels(QUIET, [4, 32], [17, 12], [5, 40], [33, 12], [3, 28], QUIET);
    expect(spansOf(spikesIn(coughs))).toEqual([
      [300, 303],
      [321, 325],
      [359, 361],
    ]);
  });
  it('is taken at a sample every 5 s and every 20 s', () => {
    expect(spansOf(spikesIn(levels([60, 12], [4, 30], [60, 12]), 5))).toEqual([[300, 315]]);
    expect(spansOf(spikesIn(levels([20, 12], [2, 30], [20, 12]), 20))).toEqual([[400, 420]]);
  });
  it('on the brink of a rise that stays is taken down to the new level', () => {
    expect(spansOf(spikesIn(levels(QUIET, [20, 40], [600, 24])))).toEqual([[300, 319]]);
  });
  it('on the way up to a plateau is taken, and the way up stays', () => {
    const upstroke = (k: number) => 12 + (43 * k) / 90;
    const wave = levels(
      QUIET,
      [60, upstroke],
      [5, (k) => upstroke(60 + k) + 40],
      [25, (k) => upstroke(65 + k)],
      [480, 55],
    );
    expect(spansOf(spikesIn(wave))).toEqual([[360, 364]]);
  });
  it('is taken at ten samples a second', () => {
    expect(spansOf(spikesIn(levels([3000, 12], [80, 32], [3000, 12]), 0.1))).toEqual([[300, 307.9]]);
  });
  it('on top of a plateau is taken, and the plateau stays', () => {
    const plateau = levels(
      QUIET,
      [90, (k) => 12 + (43 * k) / 90],
      [240, 55],
      [6, 75],
      [234, 55],
      [120, (k) => 55 - (43 * k) / 120],
      QUIET,
    );
    expect(spansOf(spikesIn(plateau))).toEqual([[630, 635]]);
  });
});

describe('what outlasts a spike stays whole', () => {
  it('a plateau wave with an upstroke of 90 s to 55 mmHg, held for 8 min', () => {
    const wave = levels(
      QUIET,
      [90, (k) => 12 + (43 * k) / 90],
      [480, 55],
      [120, (k) => 55 - (43 * k) / 120],
      QUIET,
    );
    expect(spikesIn(wave)).toEqual([]);
  });
  it('a plateau wave that rises within 10 s and falls within 10 s', () => {
    const wave = levels(QUIET, [10, (k) => 12 + 4.3 * k], [480, 55], [10, (k) => 55 - 4.3 * k], QUIET);
    expect(spikesIn(wave)).toEqual([]);
  });
  it('a rise that stays', () => {
    expect(spikesIn(levels(QUIET, [900, 30]))).toEqual([]);
  });
  it('a fall to a lower level: the baseline before was the higher one', () => {
    expect(spikesIn(levels([900, 30], QUIET))).toEqual([]);
  });
  it('a bump of 5 mmHg before a fall by 18: it is measured from the higher level', () => {
    expect(spikesIn(levels([300, 30], [10, 35], QUIET))).toEqual([]);
  });
  it.each([70, 90, 110, 130, 180, 240])('a rise of %i s', (seconds) => {
    expect(spikesIn(risen(seconds, 20))).toEqual([]);
  });
  it('a rise that ebbs over minutes', () => {
    const ebb = levels(QUIET, [600, (k) => 12 + 30 * Math.exp(-k / 60)], QUIET);
    expect(spikesIn(ebb)).toEqual([]);
  });
  it('rhythmic waves of 20 mmHg from peak to peak with a period of 60 s', () => {
    const waves = levels(QUIET, [1200, (k) => 22 - 10 * Math.cos((2 * Math.PI * k) / 60)], QUIET);
    expect(spikesIn(waves)).toEqual([]);
  });
  it('a rise of which the end was not recorded, or lies behind a hole', () => {
    expect(spikesIn(levels(QUIET, [20, 32]))).toEqual([]);
    expect(spikesIn(levels(QUIET, [20, 32], [10, Number.NaN], QUIET))).toEqual([]);
  });
});

describe('the rule for brief spikes', () => {
  it('stands aside at more than 20 s between samples, and says so', () => {
    const rare = recordingOf({ icp: everySeconds(60, levels([20, 12], [1, 40], [20, 12])) });
    expect(findWith(briefSpike, rare)).toEqual({
      marks: [],
      stoodAside: ['ICP comes every 60 s; the rule needs 20 s or finer'],
    });
  });
  it('follows other parameters', () => {
    const recording = recordingOf({ icp: everySeconds(1, risen(40, 20)) });
    expect(findWith(briefSpike, recording, { maxSeconds: 30 }).marks).toEqual([]);
    expect(findWith(briefSpike, recording, { riseMmHg: 21 }).marks).toEqual([]);
  });
  it('has nothing to say without ICP', () => {
    expect(findWith(briefSpike, recordingOf({ map: everySeconds(1, [80, 81, 80]) }))).toEqual({
      marks: [],
      stoodAside: [],
    });
  });
});
