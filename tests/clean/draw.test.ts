import { describe, expect, it } from 'vitest';
import { cleanedSignal } from '../../src/clean/clean.js';
import { draw } from '../../src/clean/draw.js';
import { wholeOf } from '../../src/recording/pieces.js';
import { monitoredHours } from '../../src/summarize/time.js';
import { recordingOf } from '../support/recordings.js';
import { findWith, levels, spansOf } from '../support/rules.js';
import { everySeconds } from '../support/signals.js';

const QUIET = [120, 85] as const;
const DROP = levels(QUIET, [60, 30], QUIET);
/** Systolic and diastolic pressures around the drop, with this pulse pressure within it. */
const withPulse = (pulse: number, map = DROP) =>
  recordingOf({
    map: everySeconds(1, map),
    sbp: everySeconds(
      1,
      map.map((x) => (x < 60 ? x + pulse : x + 60)),
    ),
    dbp: everySeconds(
      1,
      map.map((x) => (x < 60 ? x : x - 20)),
    ),
  });

describe('blood drawn from the arterial line', () => {
  it('is a drop of MAP without a pulse that comes back, and is removed from MAP', () => {
    const { marks } = findWith(draw, withPulse(3));
    expect(spansOf(marks)).toEqual([[120, 179]]);
    expect(marks[0]).toMatchObject({ channel: 'map', rule: 'draw', grade: 'removed' });
    expect(marks[0].direction).toBeUndefined();
  });
  it('is not a drop with a pulse pressure of 40 mmHg: that is the patient', () => {
    expect(findWith(draw, withPulse(40)).marks).toEqual([]);
  });
  it('needs a pulse pressure under 10 mmHg', () => {
    expect(findWith(draw, withPulse(9)).marks).toHaveLength(1);
    expect(findWith(draw, withPulse(10)).marks).toEqual([]);
  });
  it('without systolic and diastolic pressures is suspect, downward, and left out of the headline', () => {
    const recording = recordingOf({ map: everySeconds(1, DROP) });
    const { marks, stoodAside } = findWith(draw, recording);
    expect(marks).toMatchObject([{ channel: 'map', rule: 'draw', grade: 'suspect', direction: 'down' }]);
    const cleaning = { marks, stoodAside, rulesOn: ['draw'].map(String) };
    const whole = wholeOf(recording.channels.map!.signal);
    const known = (reading: 'headline' | 'otherWay') =>
      monitoredHours(cleanedSignal(recording, 'map', { ...cleaning, stoodAside: [] }, reading), whole);
    expect(known('headline')).toBeLessThan(known('otherWay'));
  });
  it('is suspect too where the pulse is missing just then', () => {
    const blank = DROP.map((x) => (x < 60 ? Number.NaN : x));
    const recording = recordingOf({
      map: everySeconds(1, DROP),
      sbp: everySeconds(1, blank),
      dbp: everySeconds(1, blank),
    });
    expect(findWith(draw, recording).marks).toMatchObject([{ grade: 'suspect', direction: 'down' }]);
  });
  it('of 40 mmHg is taken, of 39 mmHg it is not', () => {
    expect(findWith(draw, withPulse(3, levels(QUIET, [60, 45], QUIET))).marks).toHaveLength(1);
    expect(findWith(draw, withPulse(3, levels(QUIET, [60, 46], QUIET))).marks).toEqual([]);
  });
  it('is not a drop that lasts longer than 3 min', () => {
    expect(findWith(draw, withPulse(3, levels(QUIET, [181, 30], QUIET))).marks).toEqual([]);
  });
  it('is not a fall that takes longer than 5 s', () => {
    const slow = levels(QUIET, [20, (k) => 85 - 3 * k], [30, 28], QUIET);
    expect(findWith(draw, withPulse(3, slow)).marks).toEqual([]);
  });
  it('stands aside at more than 15 s between samples, and says so', () => {
    expect(findWith(draw, recordingOf({ map: everySeconds(30, levels([9, 85], [2, 30], [9, 85])) }))).toEqual(
      {
        marks: [],
        stoodAside: ['MAP comes every 30 s; the rule needs 15 s or finer'],
      },
    );
  });
});
