import { describe, expect, it } from 'vitest';
import type { CareEntry } from '../../src/recording/care.js';
import { difference } from '../../src/recording/difference.js';
import { knownIntervals, type Signal } from '../../src/recording/signal.js';
import { ZoneClock } from '../../src/recording/zone.js';
import { doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { type Levelling, levelSteps, MMHG_PER_CM, takenOffMap } from '../../src/summarize/levelling.js';
import { timeWeightedMean } from '../../src/summarize/mean.js';
import { summarizeRecording } from '../../src/summarize/summarize.js';
import { recordingOf } from '../support/recordings.js';
import { seconds } from '../support/shapes.js';
import { everySeconds, T0 } from '../support/signals.js';
import { ADULT, OVER_22, UNDER_60 } from '../support/targets.js';

/** An entry on the head of the bed, seconds after T0. */
const angle = (at: number, angleDegrees: number | null): CareEntry => ({
  start: T0 + at * 1000,
  end: null,
  kinds: ['headOfBed'],
  angleDegrees,
});
const BY_LOG: Levelling = { zeroedAt: 'heart', heartToEarCm: 30, headOfBed: 'careLog' };

const corrections = (levelling: Levelling, care: CareEntry[] = []): (number | null)[] =>
  levelSteps(levelling, care).map(({ correctionMmHg }) => correctionMmHg);

describe('hydrostatics of blood', () => {
  it('is that of 1.06 g/mL under standard gravity', () => {
    // By hand: 1060 kg/m3 x 9.80665 m/s2 x 0.01 m = 103.95049 Pa; over 133.3224 Pa (NIST SP 811) = 0.779693 mmHg.
    expect(MMHG_PER_CM).toBeCloseTo(0.779693, 6);
  });
  it('agrees with water: 1 cmH2O is 98.0665 Pa (NIST SP 811), and blood is 1.06 times as heavy', () => {
    expect(MMHG_PER_CM).toBeCloseTo((1.06 * 98.0665) / 133.3224, 12);
  });
});

describe('what MAP is taken down by', () => {
  it('is nothing where nobody asked, or the line was zeroed at the ear', () => {
    expect(levelSteps(undefined)).toEqual([]);
    expect(levelSteps({ zeroedAt: 'ear' })).toEqual([]);
  });
  it('is the weight of blood over the height that was given', () => {
    expect(corrections({ zeroedAt: 'heart', verticalCm: 20 })[0]).toBeCloseTo(15.594, 3);
    expect(corrections({ zeroedAt: 'heart', verticalCm: -5 })[0]).toBeCloseTo(-3.898, 3);
  });
  it('is that of the length times the sine of the angle', () => {
    const at = (headOfBedDegrees: number): number | null =>
      corrections({ zeroedAt: 'heart', heartToEarCm: 30, headOfBedDegrees })[0];
    // 30 cm x sin 30 = 15 cm; x 0.779693 = 11.695 mmHg.
    expect(at(30)).toBeCloseTo(11.695, 3);
    expect(at(0)).toBe(0);
    expect(at(90)).toBeCloseTo(30 * MMHG_PER_CM, 12);
  });
  it('follows the angle of the care log, and is unknown before its first entry', () => {
    const steps = levelSteps(BY_LOG, [angle(600, 30), angle(1200, null), angle(1800, 0), angle(2400, 0)]);
    expect(steps.map(({ start, headOfBedDegrees }) => [(start - T0) / 1000, headOfBedDegrees])).toEqual([
      [Number.NEGATIVE_INFINITY, null],
      [600, 30],
      [1200, null],
      [1800, 0],
    ]);
    expect(steps.map(({ end }) => (end - T0) / 1000)).toEqual([600, 1200, 1800, Number.POSITIVE_INFINITY]);
    expect(steps[0].correctionMmHg).toBeNull();
  });
  it('begins with the angle that is given for the time before the first entry', () => {
    expect(corrections({ ...BY_LOG, headOfBedDegrees: 90 }, [angle(600, 0)])).toEqual([30 * MMHG_PER_CM, 0]);
  });
  it('does not change with entries on something else, nor with an entry beside one that gives the angle', () => {
    const turn: CareEntry = { start: T0 + 900_000, end: null, kinds: ['turn'], angleDegrees: null };
    const steps = levelSteps(BY_LOG, [angle(0, null), angle(0, 30), turn]);
    expect(steps.map(({ headOfBedDegrees }) => headOfBedDegrees)).toEqual([null, 30]);
  });
  it('is unknown where two entries of one time contradict each other', () => {
    expect(corrections(BY_LOG, [angle(0, 0), angle(600, 30), angle(600, 45), angle(1200, 0)])).toEqual([
      null,
      0,
      null,
      0,
    ]);
  });
});

/** CPP of an ICP of 10 and a MAP of 80, so many seconds a sample, with these entries in the log. */
function cppOf(every: number, minutes: number, entries: CareEntry[]): Signal {
  const count = (minutes * 60) / every + 1;
  const [map, icp] = [80, 10].map((mmHg) => everySeconds(every, Array(count).fill(mmHg)));
  return difference(map, icp, takenOffMap(levelSteps(BY_LOG, entries)));
}

describe('CPP with MAP at ear level', () => {
  const low = 70 - 30 * MMHG_PER_CM;

  it('takes each sample by the step that it stands in', () => {
    const { times, values } = cppOf(1, 0.05, [angle(-60, 0), angle(2, 90)]);
    expect(Array.from(times, (t) => t - T0)).toEqual([0, 1000, 1999, 2000, 3000]);
    expect([...values]).toEqual([70, 70, 70, expect.closeTo(low, 9), expect.closeTo(low, 9)]);
  });
  it('leaves unknown what stands before the first angle', () => {
    expect(knownIntervals(cppOf(1, 0.05, [angle(2, 0)]))).toEqual([seconds(2, 3)]);
    expect(knownIntervals(cppOf(60, 2, [angle(90, 0)]))).toEqual([seconds(90, 120)]);
    expect(knownIntervals(cppOf(60, 2, [angle(0, 0), angle(90, null)]))).toEqual([seconds(0, 89.999)]);
  });
  it.each([1, 5, 60, 600])('changes at the instant of the entry with a sample every %i s', (every) => {
    const cpp = cppOf(every, 30, [angle(0, 0), angle(750, 90), angle(1234, 0)]);
    // By hand: below 60 from 750 s to 1234 s, all the time by the same; the steps take 1 ms each.
    const whole = seconds(0, 1800);
    expect(doseBelowMmHgHours(cpp, whole, 60)).toBeCloseTo(((60 - low) * 484) / 3600, 4);
    expect(timeWeightedMean(cpp, whole)).toBeCloseTo(70 - ((70 - low) * 484) / 1800, 4);
  });
  it('keeps a gap of MAP open in which the angle changes', () => {
    const map = { ...everySeconds(60, [80, 80, 80, 80]), known: Uint8Array.of(1, 0, 1, 0) };
    const icp = everySeconds(60, [10, 10, 10, 10]);
    const cpp = difference(map, icp, takenOffMap(levelSteps(BY_LOG, [angle(0, 0), angle(90, 90)])));
    expect(knownIntervals(cpp)).toEqual([seconds(0, 60), seconds(120, 180)]);
  });
});

describe('figures of a recording whose MAP is levelled', () => {
  const hour = 3600;
  const map = everySeconds(1, Array(hour + 1).fill(85));
  const icp = everySeconds(
    1,
    Array.from({ length: hour + 1 }, (_, i) => (i >= 1000 && i <= 1600 ? 30 : 12)),
  );
  const care = [angle(0, 30), angle(1800, 0)];
  const recording = { ...recordingOf({ icp, map }), care };
  const spike = { channel: 'icp', rule: 'briefSpike', grade: 'removed', ...seconds(2000, 2100) } as const;
  const step = {
    channel: 'icp',
    rule: 'step',
    grade: 'suspect',
    direction: 'up',
    ...seconds(1000, 1600),
  } as const;
  const summarize = (levelling?: Levelling) =>
    summarizeRecording(
      recording,
      { marks: [step, spike], rulesOn: ['briefSpike', 'step'], stoodAside: [] },
      {
        targets: ADULT,
        icpEpisodes: OVER_22,
        cppEpisodes: UNDER_60,
        agreement: { zeroMovedMmHg: 5 },
        night: { fromMinutes: 1140, toMinutes: 420 },
        levelling,
      },
      seconds(0, hour),
      new ZoneClock('UTC'),
    );
  const down = 15 * MMHG_PER_CM;

  it('rest on it in every reading: cleaned, as exported, the other way, with a rule off', () => {
    const plain = summarize();
    const done = summarize({ zeroedAt: 'heart', verticalCm: 15 });
    const means = ({ period, raw, otherWay }: typeof plain): number[] =>
      [period.cpp, raw.cpp, otherWay!.cpp].map(({ meanMmHg }) => meanMmHg!);
    expect(means(done)).toEqual(means(plain).map((mean) => expect.closeTo(mean - down, 8)));
    // CPP is 55 for 600 s and 73 elsewhere; 11.7 mmHg lower, 43.3 and 61.3: below 60 for the same time and deeper.
    const dose = (one: typeof plain): number[] =>
      one.cleaning.takes.map(({ without }) => without.cppDoseBelowFloorMmHgHours);
    const deeper = dose(plain).map((mmHgHours) => expect.closeTo(mmHgHours + (down * 600) / 3600, 1));
    expect(dose(done)).toEqual(deeper);
    expect(done.episodes[0].lowestCppMmHg).toBeCloseTo(55 - down, 8);
  });
  it('say of MAP and ICP what was measured', () => {
    const [plain, done] = [summarize(), summarize({ zeroedAt: 'heart', verticalCm: 15 })];
    expect(done.signals.map).toEqual(plain.signals.map);
    expect(done.period.icp).toEqual(plain.period.icp);
    expect(done.period.monitoredHours.map).toBe(plain.period.monitoredHours.map);
    expect(done.period.monitoredHours.cpp).toBeCloseTo(plain.period.monitoredHours.cpp, 9);
  });
  it('take the correction of each instant from the care log', () => {
    const { cpp } = summarize(BY_LOG).signals;
    const at = (second: number): number => cpp.values[cpp.times.indexOf(T0 + second * 1000)];
    expect(at(10)).toBeCloseTo(73 - down, 8);
    expect(at(1799.999)).toBeCloseTo(73 - down, 8);
    expect(at(1800)).toBe(73);
  });
  it('know no CPP while the angle is not known, also with a rule off', () => {
    const late = { ...recording, care: [angle(1800, 0)] };
    const { period, cleaning } = summarizeRecording(
      late,
      { marks: [spike], rulesOn: ['briefSpike'], stoodAside: [] },
      {
        targets: { ...ADULT, cppFloorMmHg: 100 },
        icpEpisodes: OVER_22,
        cppEpisodes: UNDER_60,
        agreement: { zeroMovedMmHg: 5 },
        night: { fromMinutes: 1140, toMinutes: 420 },
        levelling: BY_LOG,
      },
      seconds(0, hour),
      new ZoneClock('UTC'),
    );
    // From 1800 s on, but for 102 s around the spike.
    expect(period.monitoredHours.cpp).toBeCloseTo((1800 - 102) / 3600, 9);
    expect(period.monitoredHours.map).toBe(1);
    expect(cleaning.takes[0].without.cppHoursBelowFloor).toBeCloseTo(0.5, 9);
  });
});
