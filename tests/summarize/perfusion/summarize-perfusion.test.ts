import { describe, expect, it } from 'vitest';
import type { ChannelKind } from '../../../src/recording/channel.js';
import { difference } from '../../../src/recording/difference.js';
import type { Interval } from '../../../src/recording/interval.js';
import type { Recording } from '../../../src/recording/recording.js';
import { emptySignal, type Signal } from '../../../src/recording/signal.js';
import { doseBelowMmHgHours } from '../../../src/summarize/dose.js';
import {
  type PerfusionSummary,
  summarizePerfusion,
} from '../../../src/summarize/perfusion/summarize-perfusion.js';
import { hoursBelow } from '../../../src/summarize/time.js';
import { listOf, wandering } from '../../support/noise.js';
import { recordingOf } from '../../support/recordings.js';
import { seconds } from '../../support/shapes.js';
import { everySeconds } from '../../support/signals.js';
import { ADULT } from '../../support/targets.js';

const HOURS = 6;
const PERIOD = seconds(0, HOURS * 3600);

const [a, b, c] = [wandering(91, 0.98), wandering(92, 0.98), wandering(93, 0.999)];
const SHARED = listOf(HOURS * 3600 + 1, a);
const ICP = everySeconds(1, [...SHARED.map((x) => 18 + 3 * x + b())]);
const MAP = everySeconds(1, [...SHARED.map((x) => 78 + 4 * x + 9 * c())]);

function summaryOf(
  channels: Readonly<Partial<Record<ChannelKind, Signal>>>,
  hasOptimal = true,
  period: Interval = PERIOD,
): PerfusionSummary {
  const recording: Recording = recordingOf(channels);
  const [icp, map] = [channels.icp ?? emptySignal, channels.map ?? emptySignal];
  const hours = [0, 1, 2, 3, 4, 5].map((h) => seconds(h * 3600, (h + 1) * 3600));
  const signals = { icp, map, cpp: difference(map, icp) };
  return summarizePerfusion(recording, signals, { period, hours, targets: ADULT, hasOptimal });
}

const holesAt = (signal: Signal, from: number, to: number): Signal =>
  everySeconds(
    1,
    [...signal.values].map((x, s) => (s >= from && s < to ? Number.NaN : x)),
  );

describe('perfusion over a period', () => {
  it('has dose and time below the floor and the lowest band', () => {
    const { below } = summaryOf({ icp: ICP, map: MAP });
    const cpp = difference(MAP, ICP);
    expect(below.map(({ belowMmHg }) => belowMmHg)).toEqual([60, 50]);
    for (const { belowMmHg, hours, doseMmHgHours } of below) {
      expect(hours).toBeGreaterThan(0);
      expect(hours).toBeCloseTo(hoursBelow(cpp, PERIOD, belowMmHg), 9);
      expect(doseMmHgHours).toBeCloseTo(doseBelowMmHgHours(cpp, PERIOD, belowMmHg), 9);
    }
  });

  it('adds up from hours to the period', () => {
    const { joint, prx } = summaryOf({ icp: ICP, map: MAP });
    const sum = joint.hours.reduce((all, hour) => all + hour.bothHours!, 0);
    expect(joint.period.bothHours).toBeGreaterThan(0.1);
    expect(sum).toBeCloseTo(joint.period.bothHours!, 9);
    expect(prx.hours.reduce((all, { computableMinutes }) => all + computableMinutes, 0) / 60).toBeCloseTo(
      prx.computableHours,
      9,
    );
    // The first window has to be half full.
    expect(prx.computableHours).toBeCloseTo(HOURS - 2 / 60, 9);
  });

  it('keeps optimal CPP out where it is not asked for', () => {
    expect(summaryOf({ icp: ICP, map: MAP }, false).optimal).toBeNull();
    const optimal = summaryOf({ icp: ICP, map: MAP }).optimal;
    if (optimal === null || typeof optimal === 'string') throw new Error('none');
    expect(optimal.yieldShare).not.toBeNull();
    expect(optimal.course.optimal).toHaveLength(HOURS * 60);
    expect(optimal.cpp.firstEnd).toBe(optimal.course.firstEnd);
    expect(optimal.cpp.values).toHaveLength(HOURS * 60);
  });

  it('gives the same figures of a period whatever lies before it, but for what leads in', () => {
    const late = seconds(5 * 3600, 6 * 3600);
    const found = summaryOf({ icp: ICP, map: MAP }, true, late);
    expect(found.prx.computableHours).toBeCloseTo(1, 9);
    const whole = summaryOf({ icp: ICP, map: MAP });
    if (typeof found.optimal === 'string' || typeof whole.optimal === 'string') throw new Error('none');
    const theirs = whole.optimal!.course.optimal.subarray(300);
    found.optimal!.course.optimal.forEach((one, i) => {
      if (Number.isNaN(theirs[i])) expect(one).toBeNaN();
      else expect(one).toBeCloseTo(theirs[i], 9);
    });
  });

  it('is unknown over the hours in which MAP is missing', () => {
    const found = summaryOf({ icp: ICP, map: holesAt(MAP, 3600, 4 * 3600) });
    expect(found.prx.computableShare).toBeGreaterThan(0.45);
    expect(found.prx.computableShare).toBeLessThan(0.51);
    expect(
      found.prx.hours.slice(2, 4).map(({ mean, computableMinutes }) => [mean, computableMinutes]),
    ).toEqual([
      [null, 0],
      [null, 0],
    ]);
    expect(found.prx.hours[2].meanReason).toBe(
      'ICP and arterial pressure were not known together for long enough',
    );
    expect(found.joint.hours[2]).toMatchObject({ bothHours: null, bothHoursReason: 'no CPP in this time' });
  });

  it('says why there is nothing without an arterial line', () => {
    const found = summaryOf({ icp: ICP });
    expect(found.prx.whyNone).toBe('there is no arterial pressure');
    expect(found.minuteIndex.whyNone).toBe('there is no arterial pressure');
    expect(found.optimal).toBe('there is no arterial pressure');
    expect(found.below[0]).toMatchObject({ hours: null, hoursReason: 'no CPP in this time' });
    expect(found.joint.period).toMatchObject({ neitherHours: null });
  });

  it('takes a channel that stands still for unknown, not for 0', () => {
    const still = everySeconds(1, [...listOf(HOURS * 3600 + 1, () => 80)]);
    const found = summaryOf({ icp: ICP, map: still });
    expect(found.prx).toMatchObject({ mean: null, shareAboveLimit: null, computableHours: 0 });
    expect(found.optimal).toMatchObject({ meanOptimalMmHg: null, yieldShare: null });
  });

  it('has minute data under their own name only', () => {
    const each = (signal: Signal): Signal =>
      everySeconds(
        60,
        [...signal.values].filter((_, s) => s % 60 === 0),
      );
    const found = summaryOf({ icp: each(ICP), map: each(MAP) });
    const why = 'not resolvable at this sampling: every 60 s, needs 10 s or finer';
    expect(found.prx.whyNone).toBe(why);
    expect(found.optimal).toBe(why);
    expect(found.bWaves).toBe(why);
    expect(found.minuteIndex.mean).not.toBeNull();
    expect(found.minuteIndex.shareAboveLimitReason).toBe('this index has no limit');
  });

  it('has what was exported beside the pressures', () => {
    const oxygen = everySeconds(60, [...listOf(HOURS * 60 + 1, (i) => (i < 90 ? 15 : 28))]);
    const temp = everySeconds(300, [...listOf(HOURS * 12 + 1, () => 37.2)]);
    const found = summaryOf({ icp: ICP, map: MAP, pbto2: oxygen, temp });
    expect(found.oxygen).toMatchObject({ lowest5Min: 15, highest5Min: 28 });
    // From minute 0 to the crossing of 20 between minutes 89 and 90.
    expect(found.oxygen!.hoursBelow).toBeCloseTo((89 + 5 / 13) / 60, 9);
    expect(found.temperature!.mean).toBeCloseTo(37.2, 9);
    expect(found.temperature!.highest5MinReason).toBe(
      'not resolvable at this sampling: every 300 s, needs 100 s or finer',
    );
    expect(found.endTidalCo2).toBeNull();
  });
});
