import { uniformInt } from 'pure-rand/distribution/uniformInt';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import type { UnitAuditInput } from '../../../src/summarize/alarms/audit-settings.js';
import { type OverTime, overTime, type TimeCourse } from '../../../src/summarize/alarms/over-time.js';
import type { TimeMeasure } from '../../../src/summarize/alarms/time-measures.js';
import type { ControlPoint } from '../../../src/summarize/statistics/control-chart.js';
import { laneyPChart } from '../../../src/summarize/statistics/p-chart.js';
import { runChartSignals } from '../../../src/summarize/statistics/run-chart.js';
import { laneyUChart, uChart } from '../../../src/summarize/statistics/u-chart.js';
import { orNull } from '../../support/followed.js';
import { inventedUnit } from '../../support/invented-unit.js';
import { noise } from '../../support/noise.js';

const DAY = 86_400_000;
const courseOf = ({ courses }: OverTime, measure: TimeMeasure): TimeCourse =>
  courses.find((one) => one.measure === measure)!;
const valuesOf = ({ points }: TimeCourse): (number | null)[] => points.map(({ value }) => orNull(value));
const local = (at: number): string => new Date(at).toLocaleString('sv', { timeZone: 'Europe/Oslo' });

const UNIT = inventedUnit({ seed: 8, patients: 40, weeks: 44, changedAfterWeeks: 22, faster: 4 });

describe('points over time', () => {
  it('are weeks from Monday on the clock of the unit, over both changes of the clock', () => {
    const { points } = overTime(UNIT);
    expect(points.length).toBe(44);
    for (const { start } of points) {
      expect(local(start).slice(11)).toBe('00:00:00');
      expect(new Date(`${local(start).slice(0, 10)}T12:00:00Z`).getUTCDay()).toBe(1);
    }
    points.slice(1).forEach(({ start }, i) => {
      expect(start).toBe(points[i].end);
    });
    expect(new Set(points.map(({ start, end }) => (end - start) / 3_600_000))).toEqual(
      new Set([168, 167, 169]),
    );
  });

  it('are months where the pipeline file says so, cut to the period and to the logs', () => {
    const alarmsCover = {
      start: Date.parse('2031-02-09T23:00:00Z'),
      end: Date.parse('2031-04-30T22:00:00Z'),
    };
    const settings = { ...UNIT.settings, per: 'month' as const };
    const { points } = overTime({ ...UNIT, alarmsCover, careCover: null, settings });
    expect(points.map(({ start, end }) => [local(start), local(end)])).toEqual([
      ['2031-02-10 00:00:00', '2031-03-01 00:00:00'],
      ['2031-03-01 00:00:00', '2031-04-01 00:00:00'],
      ['2031-04-01 00:00:00', '2031-05-01 00:00:00'],
    ]);
    const careCover = { ...alarmsCover, end: Date.parse('2031-05-09T22:00:00Z') };
    const longer = overTime({ ...UNIT, alarmsCover, careCover, settings }).points;
    expect(longer.slice(3).map(({ end }) => local(end))).toEqual(['2031-05-10 00:00:00']);
  });

  it('stand before a change, across it or after it', () => {
    const atMs = UNIT.period.start + 10.5 * 7 * DAY;
    const { points } = overTime({ ...UNIT, settings: { ...UNIT.settings, changed: { atMs, what: 'a' } } });
    const parts = points.map(({ part }) => part);
    expect(parts).toEqual([...Array(10).fill('before'), 'across', ...Array(33).fill('after')]);
  });
});

describe('measures over time', () => {
  const found = overTime(UNIT);

  it('are counts of what is in each week on what was there in it', () => {
    const alarms = courseOf(found, 'alarmsPerDay').points;
    const shares = courseOf(found, 'sustainedShare').points;
    const treated = courseOf(found, 'treatedShare').points;
    const all = UNIT.patients.flatMap((one) => one.alarms);
    const episodes = UNIT.patients.flatMap((one) => one.episodes).filter(({ channel }) => channel === 'icp');
    let untold = 0;
    const cut = UNIT.patients
      .flatMap((one) => one.episodes)
      .filter(({ treated }) => treated?.outcome === 'cut' && treated.minutes < 15);
    expect(cut.length).toBeGreaterThan(3);
    found.points.forEach(({ start, end }, i) => {
      const own = all.filter(({ onset }) => onset >= start && onset < end);
      const days = UNIT.patients.reduce(
        (sum, { extent }) =>
          sum + Math.max(0, Math.min(end, extent.end) - Math.max(start, extent.start)) / DAY,
        0,
      );
      expect(alarms[i].count).toBe(own.length);
      expect(alarms[i].size).toBeCloseTo(days, 9);
      expect(orNull(alarms[i].value)).toBeCloseTo(own.length / days, 9);
      const told = own.filter(({ alarmClass }) => alarmClass !== 'cannotTell');
      untold += own.length - told.length;
      expect([shares[i].count, shares[i].size]).toEqual([
        told.filter(({ alarmClass }) => alarmClass === 'sustained' || alarmClass === 'cutShort').length,
        told.length,
      ]);
      const followed = episodes
        .filter(({ episode }) => episode.start >= start && episode.start < end)
        .filter(({ followedMinutes }) => followedMinutes >= 15)
        .map((one) => one.treated!);
      expect([treated[i].count, treated[i].size]).toEqual(
        followed.length === 0
          ? [null, 0]
          : [
              followed.filter(({ outcome, minutes }) => outcome === 'happened' && minutes <= 15).length,
              followed.length,
            ],
      );
    });
    expect(untold).toBeGreaterThan(20);
  });

  it('have reasons where nothing was there, and are left out of the charts', () => {
    const [first] = found.points;
    const without = {
      ...UNIT,
      patients: UNIT.patients.map((one) => ({
        ...one,
        alarms: one.alarms.filter(({ onset }) => onset >= first.end),
        episodes: one.episodes.filter(({ episode }) => episode.start >= first.end),
        hours: one.hours.filter(({ start }) => start >= first.end),
      })),
    };
    const other = overTime(without);
    const reasonOf = (measure: TimeMeasure) => courseOf(other, measure).points[0].value;
    expect(reasonOf('alarmsPerDay')).toEqual({
      reason: 'no monitored time that the alarm log reaches',
    });
    expect(reasonOf('sustainedShare')).toEqual({ reason: 'no alarm of which one can tell' });
    expect(reasonOf('treatedShare')).toEqual({
      reason: 'no sustained episode that was followed for long enough',
    });
    expect(reasonOf('medianMinutesToTreatment')).toEqual({ reason: 'no sustained episode' });
    expect(reasonOf('monitoredDays')).toBe(0);
    for (const { views } of other.courses) {
      expect(views.every(({ points }) => points.every(({ index }) => index > 0))).toBe(true);
    }
  });

  it('have a reason as a whole without the log', () => {
    const bare = overTime({ ...UNIT, alarmsCover: null, careCover: null });
    expect(bare.courses.map(({ measure, reason, views }) => [measure, reason, views.length])).toEqual([
      ['alarmsPerDay', 'no alarm log was given', 0],
      ['sustainedShare', 'no alarm log was given', 0],
      ['treatedShare', 'no care log was given', 0],
      ['medianMinutesToTreatment', 'no care log was given', 0],
      ['monitoredDays', null, 0],
    ]);
  });
});

describe('views of a course', () => {
  const found = overTime(UNIT);

  it('carry median and limits of the points before a change over those after it', () => {
    const course = courseOf(found, 'alarmsPerDay');
    const [baseline, carried, rebased] = course.views;
    expect(course.views.map(({ kind }) => kind)).toEqual(['baseline', 'carried', 'rebased']);
    const values = valuesOf(course) as number[];
    const [before, after] = [values.slice(0, 22), values.slice(22)];
    expect(baseline.run).toEqual(runChartSignals(before));
    expect(carried.run).toEqual(runChartSignals(after, baseline.run.centreLine as number));
    expect(rebased.run).toEqual(runChartSignals(after));
    const [counts, sizes] = [
      course.points.map(({ count }) => count!),
      course.points.map(({ size }) => size!),
    ];
    const own = laneyUChart(counts.slice(0, 22), sizes.slice(0, 22));
    const over = laneyUChart(counts.slice(22), sizes.slice(22), own.baseline);
    expect(carried.points.map(({ limits }) => limits)).toEqual(over.points);
    expect(carried.points.map(({ index }) => index)).toEqual(Array.from({ length: 22 }, (_, i) => 22 + i));
    expect(carried.baselinePoints).toBe(22);
  });

  it('tell that answers became faster where they did', () => {
    const course = courseOf(found, 'treatedShare');
    const carried = course.views.find(({ kind }) => kind === 'carried')!;
    expect(carried.run.hasLongRun || carried.run.hasFewCrossings).toBe(true);
    const line = carried.run.centreLine as number;
    const after = valuesOf(course)
      .slice(22)
      .filter((x) => x !== null);
    expect(after.filter((x) => x > line).length).toBeGreaterThan(after.length * 0.7);
    const { points } = carried;
    const told = course.points.slice(0, 22).filter(({ size }) => (size ?? 0) > 0);
    const { baseline } = laneyPChart(
      told.map(({ count }) => count!),
      told.map(({ size }) => size!),
    );
    const rest = points.map(({ index }) => course.points[index]);
    expect(points.map(({ limits }) => limits)).toEqual(
      laneyPChart(
        rest.map(({ count }) => count!),
        rest.map(({ size }) => size!),
        baseline,
      ).points,
    );
  });

  it('tell nothing of fewer than 12 points, neither signals nor limits', () => {
    const atMs = UNIT.period.start + 8 * 7 * DAY;
    const short: UnitAuditInput = { ...UNIT, settings: { ...UNIT.settings, changed: { atMs, what: 'a' } } };
    const [baseline, carried, rebased] = courseOf(overTime(short), 'alarmsPerDay').views;
    expect(baseline.run.reason).toBe('too few to tell: 8 points, and 12 are needed');
    expect(carried.run.reason).toBe('too few to tell: 8 points before the change, and 12 are needed');
    for (const { run, points, limitsReason } of [baseline, carried]) {
      expect([run.hasLongRun, run.hasFewCrossings]).toEqual([null, null]);
      expect(points.every(({ limits }) => limits.beyond === null && orNull(limits.upper) === null)).toBe(
        true,
      );
      expect(limitsReason).toMatch(/^too few to tell/);
    }
    expect(rebased.kind).toBe('rebased');
    expect(rebased.run.hasLongRun).not.toBeNull();
  });

  it('are none but the carried one where everything is after the change', () => {
    const early = { ...UNIT, settings: { ...UNIT.settings, changed: { atMs: 0, what: 'a' } } };
    const [, carried] = courseOf(overTime(early), 'alarmsPerDay').views;
    expect(carried.run.centreLine).toEqual({ reason: 'no point stands before the change' });
    expect(carried.run.hasLongRun).toBeNull();
  });
});

describe("limits after Laney's charts", () => {
  // Simulations of our own in which nothing changes and patients differ; three standard deviations of a normal distribution
  // are passed by 0.3 % of points.
  const tallyOf = (charts: readonly { laney: readonly ControlPoint[]; plain: readonly ControlPoint[] }[]) => {
    const passed = (points: readonly ControlPoint[]) => points.filter(({ beyond }) => beyond !== null).length;
    const sum = (of: (chart: (typeof charts)[number]) => number) => charts.reduce((a, one) => a + of(one), 0);
    const points = sum(({ laney }) => laney.length);
    return {
      points,
      laney: sum(({ laney }) => passed(laney)) / points,
      plain: sum(({ plain }) => passed(plain)) / points,
    };
  };

  it('are passed in under 1.5 % of weeks that share no patient, where the plain ones are passed in over 10 %', () => {
    const rates = tallyOf(
      Array.from({ length: 100 }, (_, seed) => {
        const normal = noise(seed);
        const random = xoroshiro128plus(seed + 500);
        const weeks = Array.from({ length: 26 }, () => {
          const days = Array.from({ length: 8 }, () => uniformInt(random, 2, 7));
          const counts = days.map((n) => Math.round(n * 8 * Math.exp(0.5 * normal())));
          return [counts, days].map((list) => list.reduce((a, b) => a + b, 0));
        });
        const [counts, sizes] = [weeks.map(([count]) => count), weeks.map(([, size]) => size)];
        return { laney: laneyUChart(counts, sizes).points, plain: uChart(counts, sizes).points };
      }),
    );
    expect(rates.points).toBe(2600);
    expect(rates.laney).toBeLessThan(0.015);
    expect(rates.plain).toBeGreaterThan(0.1);
  });

  it('are passed more often where patients stay over the end of a week, in 1 to 4 %, and the plain ones in over 30 %', () => {
    const rates = tallyOf(
      Array.from({ length: 40 }, (_, k) => {
        const unit = inventedUnit({ seed: 100 + k, patients: 60, weeks: 30, spread: 0.6 });
        const { points } = courseOf(overTime(unit), 'alarmsPerDay').views[0];
        return { laney: points.map(({ limits }) => limits), plain: points.map(({ plain }) => plain!) };
      }),
    );
    expect(rates.points).toBeGreaterThan(1100);
    expect(rates.laney).toBeGreaterThan(0.01);
    expect(rates.laney).toBeLessThan(0.04);
    expect(rates.plain).toBeGreaterThan(0.3);
  });
});
