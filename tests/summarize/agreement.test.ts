import { describe, expect, it } from 'vitest';
import type { Mark } from '../../src/clean/rule.js';
import type { ChannelKind } from '../../src/recording/channel.js';
import type { Recording } from '../../src/recording/recording.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { type Agreement, agreementOf, ONE_SOURCE } from '../../src/summarize/agreement.js';
import { limitsOfAgreement } from '../../src/summarize/limits-of-agreement.js';
import { recordingOf } from '../support/recordings.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';

const CLOCK = new ZoneClock('UTC');
const hours = (from: number, to: number) => seconds(from * 3600, to * 3600);

/** Two sources every 5 s for so many hours: ICP swings around 12 mmHg, and the drain reads lower by `apart`. */
function twoSources(lengthHours: number, apart: (hour: number) => number): Recording {
  const count = lengthHours * 720 + 1;
  const icp = Array.from({ length: count }, (_, i) => 12 + 3 * Math.sin(i / 40));
  return recordingOf({
    icp: everySeconds(5, icp),
    icpDrain: everySeconds(
      5,
      icp.map((x, i) => x - apart(i / 720)),
    ),
  });
}

const mark = (
  channel: ChannelKind,
  rule: string,
  from: number,
  to: number,
  more: Partial<Mark> = {},
): Mark => ({
  channel,
  rule,
  grade: 'removed',
  ...hours(from, to),
  ...more,
});

function agree(
  recording: Recording,
  marks: readonly Mark[] = [],
  lengthHours = 4,
  zeroMovedMmHg = 5,
): Agreement {
  const cleaning = { marks, rulesOn: [], stoodAside: [] };
  const agreement = agreementOf(recording, cleaning, hours(0, lengthHours), { zeroMovedMmHg }, CLOCK);
  if (typeof agreement === 'string') throw new Error(agreement);
  return agreement;
}

describe('limits of agreement', () => {
  it('are those of Bland and Altman for two peak flow meters', () => {
    // Source: Bland & Altman, Lancet 1986;1:307-10, 17 subjects, first measurement with each meter, l/min. The listing
    // is values from memory, and they reproduce the published figures: mean difference -2.1, SD 38.8.
    const large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
    const mini = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
    const { mean, sd, lower, upper } = limitsOfAgreement(large.map((x, i) => x - mini[i]));
    expect(mean).toBeCloseTo(-2.1, 1);
    expect(sd).toBeCloseTo(38.8, 1);
    expect([lower, upper]).toEqual([mean - 1.96 * sd, mean + 1.96 * sd]);
  });
});

describe('agreement of a probe and a drain', () => {
  it('rests on 1-min means, the probe minus the drain', () => {
    // In turn 1 and 3 mmHg apart, a minute each: mean 2, SD (n-1) of 240 values that are 1 off the mean.
    const alternating = twoSources(4, (hour) => (Math.floor(hour * 60 + 1e-6) % 2 === 0 ? 1 : 3));
    const { means, meanDifferenceMmHg, sdMmHg, lowerLimitMmHg, upperLimitMmHg } = agree(alternating);
    expect(means).toHaveLength(240);
    // The piece between two minutes slopes, so that each mean is a little nearer to its neighbours.
    expect(meanDifferenceMmHg).toBeCloseTo(2, 2);
    expect(sdMmHg).toBeGreaterThan(0.9);
    expect(sdMmHg).toBeLessThan(1.01);
    expect(upperLimitMmHg - lowerLimitMmHg).toBeCloseTo(2 * 1.96 * sdMmHg, 9);
  });

  it('has the mean difference of each hour, and none where they are not known together', () => {
    const recording = twoSources(4, (hour) => Math.floor(hour + 1e-9));
    const { hours: byHour } = agree(recording, [mark('icp', 'flatline', 2, 3)]);
    expect(byHour.map(({ minutes }) => minutes)).toEqual([60, 60, 0, 60]);
    expect(byHour[0].meanDifferenceMmHg).toBeCloseTo(0, 1);
    expect(byHour[1].meanDifferenceMmHg).toBeCloseTo(1, 1);
    expect(byHour[2].meanDifferenceMmHg).toBeNull();
  });

  it('leaves out what was removed of either and the open drain, also where its closing was never logged', () => {
    const recording = twoSources(4, (hour) => (hour > 1 && hour < 2 ? 40 : 1));
    const open = mark('icpDrain', 'openDrain', 0.99, 2.01);
    expect(agree(recording, [open]).meanDifferenceMmHg).toBeCloseTo(1, 2);
    const neverClosed: Mark = { ...open, grade: 'suspect', direction: 'down' };
    expect(agree(recording, [neverClosed]).meanDifferenceMmHg).toBeCloseTo(1, 2);
    expect(agree(recording, [mark('icp', 'handling', 0.99, 2.01)]).meanDifferenceMmHg).toBeCloseTo(1, 2);
  });

  it('keeps suspect stretches: a wrong zero is what is looked for', () => {
    const recording = twoSources(4, (hour) => (hour > 2 ? 9 : 1));
    const drift = mark('icp', 'drift', 2, 4, { grade: 'suspect', direction: 'up' });
    expect(agree(recording, [drift]).means).toHaveLength(240);
  });

  it('counts minutes that are known for half or more', () => {
    // Removed are 20 s of one minute, and 40 s of the next.
    const marks = [
      { ...mark('icp', 'briefSpike', 0, 0), ...seconds(600, 615) },
      { ...mark('icp', 'briefSpike', 0, 0), ...seconds(665, 700) },
    ];
    const starts = agree(
      twoSources(4, () => 1),
      marks,
    ).means.map(({ start }) => (start - T0) / 60_000);
    expect(starts).toHaveLength(239);
    expect(starts).toContain(10);
    expect(starts).not.toContain(11);
  });

  it('says why there is none', () => {
    const why = (recording: Recording, length = 4): unknown =>
      agreementOf(
        recording,
        { marks: [], rulesOn: [], stoodAside: [] },
        hours(0, length),
        { zeroMovedMmHg: 5 },
        CLOCK,
      );
    expect(why(recordingOf({ icp: everySeconds(5, [1, 2]) }))).toBe(ONE_SOURCE);
    expect(
      why(
        twoSources(4, () => 1),
        0.4,
      ),
    ).toMatch(/known together for 24 min, and 30 min are needed/);
    const coarse = everySeconds(300, Array(49).fill(12));
    expect(why(recordingOf({ icp: coarse, icpDrain: coarse }))).toMatch(/^not resolvable at this sampling/);
  });
});

describe('a zero that has moved', () => {
  const movesOf = (apart: (hour: number) => number, marks: readonly Mark[] = [], zeroMovedMmHg = 5) =>
    agree(twoSources(6, apart), marks, 6, zeroMovedMmHg).zeroMoves.map(({ start, end, ...levels }) => ({
      from: Math.round((start - T0) / 60_000),
      to: Math.round((end - T0) / 60_000),
      before: Math.round(levels.beforeMmHg),
      after: Math.round(levels.afterMmHg),
    }));

  it('is a lasting change of the difference, told with when and how far', () => {
    expect(movesOf((hour) => (hour > 2.5 ? 9 : 1))).toEqual([{ from: 150, to: 150, before: 1, after: 9 }]);
    expect(movesOf((hour) => (hour > 2.5 ? -8 : 1))).toEqual([{ from: 150, to: 150, before: 1, after: -8 }]);
  });

  it('is told as between two times where the change lies in a gap', () => {
    const open = mark('icpDrain', 'openDrain', 2, 3);
    expect(movesOf((hour) => (hour > 2.5 ? 9 : 1), [open])).toEqual([
      { from: 120, to: 180, before: 1, after: 9 },
    ]);
  });

  it('is none where the change is small, is over within the hour, or comes slowly', () => {
    expect(movesOf((hour) => (hour > 2.5 ? 5.5 : 1))).toEqual([]);
    expect(movesOf((hour) => (hour > 2.5 && hour < 3.2 ? 9 : 1))).toEqual([]);
    expect(movesOf((hour) => hour)).toEqual([]);
  });

  it('is told each time, also on the way back', () => {
    expect(movesOf((hour) => (hour > 1.5 && hour < 4 ? 9 : 1)).map(({ from }) => from)).toEqual([90, 240]);
  });

  it('follows the parameter', () => {
    expect(movesOf((hour) => (hour > 2.5 ? 5.5 : 1), [], 4)).toHaveLength(1);
    expect(movesOf((hour) => (hour > 2.5 ? 9 : 1), [], 8.5)).toEqual([]);
  });

  it('cannot be told from under two hours', () => {
    const { zeroMoves, zeroMovesReason } = agree(
      twoSources(4, () => 1),
      [],
      1.5,
    );
    expect(zeroMoves).toEqual([]);
    expect(zeroMovesReason).toMatch(/known together for 90 min, and 120 min are needed/);
    expect(agree(twoSources(4, () => 1)).zeroMovesReason).toBeNull();
  });
});
