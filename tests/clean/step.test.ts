import { describe, expect, it } from 'vitest';
import { step } from '../../src/clean/step.js';
import type { CareKind } from '../../src/recording/care.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds, T0 } from '../support/signals.js';

const QUIET = [600, 16] as const;
const alive = (seconds: number, level: number) => [seconds, (k: number) => level + (k % 5) / 10] as const;
const stepsIn = (icp: readonly number[], map?: readonly number[], interval = 1) => {
  const signals = { icp: everySeconds(interval, icp), ...(map && { map: everySeconds(interval, map) }) };
  return findWith(step, recordingOf(signals)).marks;
};

describe('a step to another level', () => {
  it('is a change of 10 mmHg within 10 s that stays, and is suspect until it is undone', () => {
    const marks = stepsIn(levels(QUIET, [900, -4], QUIET));
    expect(spansOf(marks)).toEqual([[600, 1499]]);
    expect(marks[0]).toMatchObject({ channel: 'icp', rule: 'step', grade: 'suspect', direction: 'down' });
  });
  it('upward is suspect, upward', () => {
    expect(stepsIn(levels(QUIET, [900, 40], QUIET))).toMatchObject([{ grade: 'suspect', direction: 'up' }]);
  });
  it('of 10 mmHg is taken, of 9 mmHg it is not', () => {
    expect(stepsIn(levels(QUIET, [900, 6], QUIET))).toHaveLength(1);
    expect(stepsIn(levels(QUIET, [900, 7], QUIET))).toEqual([]);
  });
  it('ends before a reverse step of half its size', () => {
    expect(spansOf(stepsIn(levels(QUIET, [900, -4], [900, 6])))).toEqual([[600, 1499]]);
  });
  it('ends after 60 min where nothing undoes it', () => {
    expect(spansOf(stepsIn(levels(QUIET, [5400, -4])))).toEqual([[600, 4200]]);
  });
  it('is taken at a sample every 10 s', () => {
    expect(spansOf(stepsIn(levels([60, 16], [90, -4], [60, 16]), undefined, 10))).toEqual([[600, 1490]]);
  });
  it('is not one with a partner in MAP: the patient changed', () => {
    const map = levels([600, 80], [900, 100], [600, 80]);
    expect(stepsIn(levels(QUIET, [900, 30], QUIET), map)).toEqual([]);
  });
  it('is one where MAP steps the other way or not at all', () => {
    const icp = levels(QUIET, [900, 30], QUIET);
    expect(stepsIn(icp, levels([600, 100], [900, 80], [600, 100]))).toHaveLength(1);
    expect(stepsIn(icp, levels([2100, 80]))).toHaveLength(1);
  });
  it('is not one where too little follows to tell that it stays: the end of the data, or a hole', () => {
    expect(stepsIn(levels(QUIET, [20, 40]))).toEqual([]);
    expect(stepsIn(levels(QUIET, [5, 40], [400, Number.NaN], QUIET))).toEqual([]);
    expect(stepsIn(levels(QUIET, [180, 40]))).toHaveLength(1);
  });
  it('is not a change that takes a minute', () => {
    expect(stepsIn(levels(QUIET, [60, (k) => 16 + k / 3], [900, 36]))).toEqual([]);
  });
  it('is not a rise by 30 mmHg that takes 25 s, nor such a fall', () => {
    expect(stepsIn(levels(QUIET, [25, (k) => 16 + 1.2 * k], [900, 46]))).toEqual([]);
    expect(stepsIn(levels([600, 46], [25, (k) => 46 - 1.2 * k], [900, 16]))).toEqual([]);
  });
  it('is not a spike, nor a rise of 2 min', () => {
    expect(stepsIn(levels(QUIET, [30, 40], QUIET))).toEqual([]);
    expect(stepsIn(levels(QUIET, [120, 40], QUIET))).toEqual([]);
  });
  it('is not a plateau wave that rises and falls over minutes', () => {
    const wave = levels(
      QUIET,
      [90, (k) => 16 + (39 * k) / 90],
      [480, 55],
      [120, (k) => 55 - (39 * k) / 120],
      QUIET,
    );
    expect(stepsIn(wave)).toEqual([]);
  });
  it('does not mark the return as a step of its own', () => {
    expect(stepsIn(levels(QUIET, [900, -4], [3600, 16]))).toHaveLength(1);
  });
  it('is not a rise that a cough began: spikes stood over the new level', () => {
    expect(stepsIn(levels(QUIET, [6, 60], [1800, 30]))).toEqual([]);
    expect(stepsIn(levels(QUIET, [1800, 30]))).toHaveLength(1);
  });
  it('is not one beside a logged change of the drain', () => {
    const recording = recordingOf({ icp: everySeconds(1, levels([600, 30], [1800, 12])) });
    const at = (second: number, kind: CareKind) => ({
      ...recording,
      care: [{ start: T0 + second * 1000, end: null, kinds: [kind], angleDegrees: null }],
    });
    expect(findWith(step, at(590, 'drainOpen')).marks).toEqual([]);
    expect(findWith(step, at(590, 'turn')).marks).toHaveLength(1);
    expect(findWith(step, at(2000, 'drainOpen')).marks).toHaveLength(1);
  });
  it('is not the reverse of one that the log explains', () => {
    const recording = recordingOf({ icp: everySeconds(1, levels([900, 14], [1800, 30], [900, 14])) });
    const care = [{ start: T0 + 890_000, end: null, kinds: ['drainClosed' as const], angleDegrees: null }];
    expect(findWith(step, { ...recording, care }).marks).toEqual([]);
    const lasting = recordingOf({ icp: everySeconds(1, levels([900, 14], [1800, 30], [900, 5])) });
    expect(findWith(step, { ...lasting, care }).marks).toMatchObject([{ direction: 'down' }]);
  });
  it('ends at a zeroing, seen or logged', () => {
    const seen = levels(QUIET, [900, -8], [60, 0.2], [1800, -8]);
    expect(spansOf(stepsIn(seen))[0]).toEqual([600, 1499]);
    const recording = recordingOf({ icp: everySeconds(1, levels(QUIET, [1800, -8])) });
    const care = [{ start: T0 + 1000_000, end: null, kinds: ['zeroing' as const], angleDegrees: null }];
    expect(spansOf(findWith(step, { ...recording, care }).marks)).toEqual([[600, 999]]);
  });
  it('is marked up to a reverse step that comes hours later, and that return is no step', () => {
    expect(spansOf(stepsIn(levels(QUIET, [9000, 32], [7200, 16])))).toEqual([[600, 9599]]);
  });
  it('is marked up to a zeroing that brings the level back', () => {
    const [[from, to]] = spansOf(stepsIn(levels(QUIET, [9000, 32], [60, 0.2], [1800, 16])));
    expect([from, to]).toEqual([600, 9599]);
  });
  it('is not the end of a zeroing, of a frozen stretch or of a lost zero', () => {
    expect(stepsIn(levels([600, 16], [400, 0.2], [900, 16]))).toEqual([]);
    const lively = (level: number) => (k: number) => level + (k % 5) / 10;
    expect(stepsIn(levels([900, lively(16)], [900, 16], [900, lively(30)]))).toEqual([]);
    expect(stepsIn(levels([900, -3], [900, 16]))).toEqual([]);
  });
  it('ends where the old level stands again, however slowly it came back', () => {
    const lively = (level: (k: number) => number) => (k: number) => level(k) + (k % 5) / 10;
    const ebb = lively((k) => 30 - (14 * k) / 600);
    const icp = levels(
      [600, lively(() => 16)],
      [900, lively(() => 30)],
      [600, ebb],
      [3000, lively(() => 16)],
    );
    const [[from, to]] = spansOf(stepsIn(icp));
    expect(from).toBe(600);
    expect(to).toBeGreaterThan(1500);
    expect(to).toBeLessThanOrEqual(2100);
  });
  it('is not the end of a damped line or an open drain: the channel came alive', () => {
    const scattered = (level: number, by: number) => (k: number) => level + (k % 2 === 0 ? by : -by);
    expect(stepsIn(levels([600, scattered(8, 0.05)], [900, scattered(24, 0.5)]))).toEqual([]);
    expect(stepsIn(levels([600, scattered(8, 0.5)], [900, scattered(24, 0.5)]))).toHaveLength(1);
    expect(stepsIn(levels([600, scattered(24, 0.5)], [900, scattered(8, 0.05)]))).toHaveLength(1);
  });
  it('is not the last of waves that go to and fro', () => {
    const waves = levels([900, (k) => 26 + 10 * Math.sign(Math.sin((2 * Math.PI * k) / 60))], [900, 14]);
    expect(stepsIn(waves)).toEqual([]);
  });
  it('stands aside at more than 10 s between samples, and says so', () => {
    expect(findWith(step, recordingOf({ icp: everySeconds(60, levels([30, 16], [30, -4])) }))).toEqual({
      marks: [],
      stoodAside: ['ICP comes every 60 s; the rule needs 10 s or finer'],
    });
  });
  it('does not reach to a drop hours later that leads somewhere else', () => {
    const ebb = (k: number) => 34 - (18 * k) / 480;
    const icp = levels(
      alive(600, 16),
      alive(600, 34),
      [480, ebb],
      alive(14_400, 16),
      alive(1200, 1),
      alive(600, 16),
    );
    const marks = stepsIn(icp);
    expect(marks[0]).toMatchObject({ direction: 'up' });
    expect(spansOf(marks)[0][1]).toBeLessThan(600 + 600 + 480);
    expect(marks[1]).toMatchObject({ direction: 'down' });
    expect(spansOf(marks)[1]).toEqual([16_080, 17_279]);
  });
  it('lasts until a slope has come back half way', () => {
    const slope = (k: number) => -4 + k / 15;
    const icp = levels(alive(600, 16), alive(900, -4), [300, slope], alive(1800, 16));
    const [, end] = spansOf(stepsIn(icp))[0];
    // Half way is 150 s up the slope; medians over half a minute tell it.
    expect(end).toBeGreaterThan(1500 + 120);
    expect(end).toBeLessThan(1500 + 165);
  });
});
