import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Cleaning } from '../../../src/clean/clean.js';
import type { Mark } from '../../../src/clean/rule.js';
import { difference } from '../../../src/recording/difference.js';
import { lengthMs } from '../../../src/recording/interval.js';
import { wholeOf } from '../../../src/recording/pieces.js';
import { emptySignal, type Signal } from '../../../src/recording/signal.js';
import { isNoBetterThanChance } from '../../../src/summarize/perfusion/chance-yield.js';
import { summarizePerfusion } from '../../../src/summarize/perfusion/summarize-perfusion.js';
import { type BurdenFeatures, burdenFeatures } from '../../../src/summarize/study/burden-features.js';
import { FEATURES, featuresOf } from '../../../src/summarize/study/features.js';
import { type StudySignals, studySignals } from '../../../src/summarize/study/study-signals.js';
import { holds, intervals, signals } from '../../support/properties.js';
import { recordingOf } from '../../support/recordings.js';
import { regulated } from '../../support/regulated.js';
import { RAMP, seconds } from '../../support/shapes.js';
import { everySeconds, T0 } from '../../support/signals.js';
import { ADULT, OVER_22 } from '../../support/targets.js';

const HOUR = seconds(0, 3600);

/** Signals without anything marked; intervals as they were sampled. */
const studyOf = (
  icp: Signal,
  map: Signal = emptySignal,
  intervalMs = { icp: 1000, map: map === emptySignal ? 0 : 1000 },
): StudySignals => ({
  signals: { icp, map, cpp: map === emptySignal ? emptySignal : difference(map, icp) },
  rawIcp: icp,
  marks: [],
  intervalMs,
  whyNoPrx: null,
  hasOptimal: false,
  therapyIntensity: null,
});
const featuresIn = (study: StudySignals, window = HOUR): BurdenFeatures =>
  burdenFeatures(study, [window], OVER_22)[0];
const constant = (value: number): Signal => everySeconds(60, Array<number>(61).fill(value));

/** An hour in which ICP rises from 0 to 36 mmHg, and CPP falls from 80 to 44, a sample a minute. */
const MINUTE = { icp: 60_000, map: 60_000 };
const ramp = featuresIn(studyOf(RAMP, constant(80), MINUTE));

describe('features of burden, in closed form', () => {
  it('hours, share and dose of a ramp', () => {
    for (const u of [15, 18, 20, 22, 25, 30]) {
      const hours = (36 - u) / 36;
      const dose = (36 - u) ** 2 / 2 / 36;
      expect(ramp[`icpHoursAbove${u}`]).toBeCloseTo(hours, 9);
      expect(ramp[`icpShareAbove${u}`]).toBeCloseTo(hours, 9);
      expect(ramp[`icpDoseAbove${u}MmHgHours`]).toBeCloseTo(dose, 9);
      expect(ramp[`icpDosePerHourAbove${u}MmHg`]).toBeCloseTo(dose, 9);
    }
    for (const u of [50, 60, 70]) {
      const hours = (u - 44) / 36;
      expect(ramp[`cppHoursBelow${u}`]).toBeCloseTo(hours, 9);
      expect(ramp[`cppDoseBelow${u}MmHgHours`]).toBeCloseTo((u - 44) ** 2 / 2 / 36, 9);
    }
  });
  it('mean, median, and the means of 5 min at the end', () => {
    expect(ramp.icpMeanMmHg).toBeCloseTo(18, 9);
    expect(ramp.icpMedianMmHg).toBeCloseTo(18, 9);
    expect(ramp.icpHighest5MinMmHg).toBeCloseTo(34.5, 9);
    expect(ramp.cppMeanMmHg).toBeCloseTo(62, 9);
    expect(ramp.cppLowest5MinMmHg).toBeCloseTo(45.5, 9);
  });
  it('monitored hours and the one episode', () => {
    expect(ramp).toMatchObject({ icpMonitoredHours: 1, mapMonitoredHours: 1, cppMonitoredHours: 1 });
    expect(ramp.icpEpisodes).toBe(1);
    expect(ramp.icpEpisodesPerDay).toBeCloseTo(24, 9);
    expect(ramp.icpLongestEpisodeMinutes).toBeCloseTo((60 * 14) / 36, 6);
  });
  it('an episode that the edge of the window cuts counts with what is left, where that is long enough', () => {
    const until = (minutes: number) =>
      featuresIn(studyOf(RAMP, constant(80), MINUTE), seconds(0, minutes * 60));
    const crossing = (60 * 22) / 36;
    expect(until(45).icpLongestEpisodeMinutes).toBeCloseTo(45 - crossing, 6);
    expect(until(41)).toMatchObject({ icpEpisodes: 0, icpEpisodesPerDay: 0, icpLongestEpisodeMinutes: 0 });
  });
});

describe('features of patients with the same episodes in the same time', () => {
  it('are the same to the last bit, so that ranks know them as ties', () => {
    // Crossings of many levels, at other places in each: sums by level differ in their last bits.
    const patients = Array.from({ length: 20 }, (_, k) =>
      featuresIn(
        studyOf(
          everySeconds(
            15,
            Array.from({ length: 241 }, (_, i) => 20 + 13 * Math.sin(i * (1 + k / 7))),
          ),
        ),
        HOUR,
      ),
    );
    expect(new Set(patients.map(({ icpHoursAbove22 }) => icpHoursAbove22)).size).toBe(20);
    expect(new Set(patients.map(({ icpMonitoredHours }) => icpMonitoredHours))).toEqual(new Set([1]));
    for (const { icpEpisodes, icpEpisodesPerDay } of patients)
      expect(icpEpisodesPerDay).toBe(24 * Number(icpEpisodes));
  });
});

describe('features that cannot be had', () => {
  it('have reasons where a channel is not there', () => {
    const none = featuresIn(studyOf(RAMP));
    expect(none.cppMeanMmHg).toEqual({ reason: 'no CPP in this time' });
    expect(none.mapMonitoredHours).toBe(0);
    expect(none.prxMean).toEqual({ reason: 'there is no arterial pressure' });
    expect(none.prxComputableShare).toEqual({ reason: 'there is no arterial pressure' });
    const outside = featuresIn(studyOf(RAMP, constant(80)), seconds(7200, 9000));
    expect(outside.icpMonitoredHours).toBe(0);
    expect(outside.icpHoursAbove22).toEqual({ reason: 'no ICP in this time' });
    expect(outside.icpRemovedShare).toEqual({ reason: 'no ICP was exported of this time' });
  });
  it('have reasons where the sampling is too coarse for them, and for no others', () => {
    expect(ramp.prxMean).toEqual({
      reason: 'not resolvable at this sampling: every 60 s, needs 10 s or finer',
    });
    const coarse = featuresIn(studyOf(RAMP, constant(80), { icp: 120_000, map: 400_000 }));
    expect(coarse.icpEpisodes).toEqual({
      reason: 'not resolvable at this sampling: every 120 s, needs 100 s or finer',
    });
    expect(coarse.icpHighest5MinMmHg).toHaveProperty('reason');
    expect(coarse.icpHoursAbove22).toBeCloseTo(14 / 36, 9);
    expect(coarse.cppHoursBelow60).toEqual({
      reason: 'not resolvable at this sampling: every 400 s, needs 300 s or finer',
    });
    expect(coarse.cppMonitoredHours).toBe(1);
  });
  it('have the reason that is given against PRx', () => {
    const { icp, map } = regulated(3, 2, { lower: 60, upper: 95, from: 60, to: 90 });
    const study = { ...studyOf(icp, map, { icp: 10_000, map: 10_000 }), whyNoPrx: 'clocks may be apart' };
    const of = featuresIn(study, wholeOf(icp));
    for (const key of ['prxMean', 'prxShareAboveLimit', 'prxComputableShare', 'cppLessOptimalMmHg']) {
      expect(of[key]).toEqual({ reason: 'clocks may be apart' });
    }
  });
});

describe('what cleaning did', () => {
  const mark = (from: number, to: number, grade: Mark['grade'], direction?: 'up' | 'down'): Mark => ({
    ...seconds(from, to),
    channel: 'icp',
    rule: 'step',
    grade,
    direction,
  });
  const recording = recordingOf({ icp: everySeconds(1, Array<number>(3601).fill(12)) });
  const cleaning: Cleaning = {
    // A mark takes the pieces on either side of its ends: 360 s, 720 s and 180 s.
    marks: [
      mark(1, 359, 'removed'),
      mark(1001, 1719, 'suspect', 'down'),
      mark(2001, 2179, 'suspect', 'up'),
      mark(300, 359, 'suspect', 'up'),
      { ...mark(3000, 3600, 'removed'), channel: 'map' },
    ],
    rulesOn: ['step'],
    stoodAside: [],
  };
  it('stands in shares of ICP as exported; what was removed is not suspect as well', () => {
    const of = featuresIn(studySignals(recording, cleaning, undefined, { hasOptimal: false }));
    expect(of.icpRemovedShare).toBeCloseTo(0.1, 9);
    expect(of.icpSuspectShare).toBeCloseTo((720 + 180) / 3600, 9);
    // Suspect stretches upward stay in, downward ones do not.
    expect(of.icpMonitoredHours).toBeCloseTo((3600 - 360 - 720) / 3600, 9);
    const otherWay = featuresIn(
      studySignals(recording, cleaning, undefined, { hasOptimal: false, reading: 'otherWay' }),
    );
    expect(otherWay.icpMonitoredHours).toBeCloseTo((3600 - 360 - 180) / 3600, 9);
    expect(otherWay.icpSuspectShare).toBe(of.icpSuspectShare);
  });
});

describe('identities', () => {
  const cases = fc.record({ signal: signals(), window: intervals() });

  it('windows that follow each other add up in hours and doses', () => {
    holds(
      fc.property(cases, fc.integer({ min: 1, max: 9 }), ({ signal, window }, tenths) => {
        const at = Math.round(window.start + (lengthMs(window) * tenths) / 10);
        const [whole, before, behind] = burdenFeatures(
          studyOf(signal),
          [window, { ...window, end: at }, { ...window, start: at }],
          OVER_22,
        );
        for (const key of ['icpMonitoredHours', 'icpHoursAbove22', 'icpDoseAbove15MmHgHours']) {
          const value = (of: BurdenFeatures): number => (typeof of[key] === 'number' ? of[key] : 0);
          expect(value(before) + value(behind)).toBeCloseTo(value(whole), 9);
        }
      }),
      100,
    );
  });

  it('share and dose per hour are hours and dose divided by the monitored hours', () => {
    holds(
      fc.property(cases, ({ signal, window }) => {
        const of = featuresIn(studyOf(signal), window);
        const hours = Number(of.icpMonitoredHours);
        fc.pre(hours > 0);
        expect(Number(of.icpShareAbove20) * hours).toBeCloseTo(Number(of.icpHoursAbove20), 9);
        expect(Number(of.icpDosePerHourAbove20MmHg) * hours).toBeCloseTo(
          Number(of.icpDoseAbove20MmHgHours),
          9,
        );
        expect((Number(of.icpEpisodesPerDay) * hours) / 24).toBeCloseTo(Number(of.icpEpisodes), 9);
      }),
      100,
    );
  });

  it('dose above u is the integral over v from u upward of the hours above v', () => {
    holds(
      fc.property(signals(), fc.integer({ min: -20, max: 600 }), (signal, tenths) => {
        const u = tenths / 10;
        const bends = [...new Set([u, ...signal.values])].filter((v) => v >= u).sort((a, b) => a - b);
        const middles = bends.slice(1).map((v, i) => (v + bends[i]) / 2);
        const levels = { icpAboveMmHg: [u, ...middles], cppBelowMmHg: [] };
        const [of] = burdenFeatures(studyOf(signal), [wholeOf(signal)], OVER_22, levels);
        fc.pre(Number(of.icpMonitoredHours) > 0);
        const integral = middles.reduce(
          (sum, v, i) => sum + Number(of[`icpHoursAbove${v}`]) * (bends[i + 1] - bends[i]),
          0,
        );
        expect(of[`icpDoseAbove${u}MmHgHours`]).toBeCloseTo(integral, 8);
      }),
      100,
    );
  });

  it('nothing behind the end of a window changes its features', () => {
    const { icp, map } = regulated(5, 8, { lower: 60, upper: 95, from: 45, to: 110, sweepHours: 4 });
    const window = { start: T0, end: T0 + 5 * 3_600_000 };
    const changed = (of: Signal): Signal => ({
      ...of,
      values: of.values.map((x, i) => (of.times[i] > window.end + 60_000 ? 3 * x : x)),
    });
    const interval = { icp: 10_000, map: 10_000 };
    const one = featuresIn(studyOf(icp, map, interval), window);
    expect(typeof one.prxMean).toBe('number');
    expect(featuresIn(studyOf(changed(icp), changed(map), interval), window)).toEqual(one);
  });

  it('several windows at once have the features of each alone', () => {
    const { icp, map } = regulated(5, 8, { lower: 60, upper: 95, from: 45, to: 110, sweepHours: 4 });
    const study = studyOf(icp, map, { icp: 10_000, map: 10_000 });
    const hour = 3_600_000;
    const windows = [
      { start: T0, end: T0 + 3 * hour },
      { start: T0, end: T0 + 8 * hour },
      { start: T0 + 1.3 * hour, end: T0 + 6.9 * hour },
    ];
    burdenFeatures(study, windows, OVER_22).forEach((of, i) => {
      const alone = featuresIn(study, windows[i]);
      for (const [key, value] of Object.entries(alone)) {
        if (typeof value === 'number') expect(of[key], key).toBeCloseTo(value, 9);
        else expect(of[key]).toEqual(value);
      }
    });
  });
});

describe('features of reactivity', () => {
  const { icp, map } = regulated(5, 24, { lower: 60, upper: 95, from: 45, to: 110, sweepHours: 4 });
  const period = wholeOf(icp);
  const study = { ...studyOf(icp, map, { icp: 10_000, map: 10_000 }), hasOptimal: true };

  it('are those of the report of perfusion over the same time', () => {
    const of = featuresIn(study, period);
    const { prx, optimal } = summarizePerfusion(recordingOf({ icp, map }), study.signals, {
      period,
      hours: [],
      targets: ADULT,
      hasOptimal: true,
    });
    if (optimal === null || typeof optimal === 'string') throw new Error('optimal CPP was expected');
    expect(of.prxMean).toBe(prx.mean);
    expect(of.prxShareAboveLimit).toBe(prx.shareAboveLimit);
    expect(of.prxComputableShare).toBe(prx.computableShare);
    expect(of.cppLessOptimalMmHg).toBeCloseTo(optimal.meanDifferenceMmHg!, 9);
  });
  it('have no optimal CPP where it was not asked for', () => {
    expect(featuresIn({ ...study, hasOptimal: false }, period).cppLessOptimalMmHg).toEqual({
      reason: 'optimal CPP was not asked for',
    });
  });
  it('have no optimal CPP exactly where the report of perfusion finds no more curves than chance', () => {
    const withheld = [71, 72, 73, 74].map((seed) => {
      const stranger = regulated(seed, 8, { lower: 60, upper: 95, from: 45, to: 110, sweepHours: 4 });
      const of = { ...studyOf(stranger.icp, map, { icp: 10_000, map: 10_000 }), hasOptimal: true };
      const task = { period: wholeOf(stranger.icp), hours: [], targets: ADULT, hasOptimal: true };
      const { optimal } = summarizePerfusion(recordingOf({ icp: stranger.icp, map }), of.signals, task);
      if (optimal === null || typeof optimal === 'string') throw new Error('optimal CPP was expected');
      const isWithheld = typeof featuresIn(of, task.period).cppLessOptimalMmHg !== 'number';
      expect(isWithheld).toBe(isNoBetterThanChance(optimal));
      return isWithheld;
    });
    expect(new Set(withheld).size).toBe(2);
  });
});

describe('the list of definitions', () => {
  it('has a key, a title and a definition of each feature once, and a source', () => {
    for (const part of ['key', 'title'] as const) {
      expect(new Set(FEATURES.map((one) => one[part])).size).toBe(FEATURES.length);
    }
    for (const { key, definition, source, unit } of FEATURES) {
      expect(definition, key).toMatch(/^[A-Z].*\.$/);
      expect(source, key).not.toBe('');
      expect(unit, key).not.toBe('');
    }
  });
  it('has a line for each feature that there is, in its order', () => {
    expect(Object.keys(ramp)).toEqual(FEATURES.map(({ key }) => key));
  });
  it('tells the rule and the thresholds that were asked for', () => {
    const list = featuresOf({ icpAboveMmHg: [17], cppBelowMmHg: [40] }, { ...OVER_22, threshold: 20 });
    expect(list.map(({ key }) => key)).toEqual(
      expect.arrayContaining(['icpHoursAbove17', 'cppHoursBelow40']),
    );
    expect(list.find(({ key }) => key === 'icpEpisodes')?.definition).toContain('ICP > 20 mmHg');
  });
});

describe('the sources of pressures past which is counted', () => {
  it('are the guidelines that name them, of adults and of children', () => {
    const levels = { icpAboveMmHg: [20, 22, 25], cppBelowMmHg: [40, 60] };
    const sourceOf = (wanted: string): string | undefined =>
      featuresOf(levels, OVER_22).find(({ key }) => key === wanted)?.source;
    const children = 'in children: Kochanek et al., Pediatr Crit Care Med 2019;20:S1-S82';
    expect(sourceOf('icpDoseAbove20MmHgHours')).toBe(children);
    expect(sourceOf('cppHoursBelow40')).toBe(children);
    expect(sourceOf('icpHoursAbove22')).toContain('Carney et al.');
    expect(sourceOf('cppHoursBelow60')).toContain('Carney et al.');
    expect(sourceOf('icpHoursAbove25')).toBe('own convention: a threshold beside those of guidelines');
  });
});
