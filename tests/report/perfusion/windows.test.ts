import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { perfusionWindows } from '../../../src/report/perfusion/windows.js';
import { perfusionOf } from '../../support/perfusion.js';

const HOUR_MS = 3_600_000;
const START = Date.parse('2031-02-10T23:00:00Z');
const at = (hour: number): string => new Date(START + hour * HOUR_MS).toISOString();
const stretch = (hour: number, hours = 1) => ({ start: at(hour), end: at(hour + hours) });

/** What the table needs of a window. */
const window = (hour: number, hours = 1) =>
  ({
    ...stretch(hour, hours),
    monitoredHours: { icp: hours, map: hours, cpp: hours },
    cpp: { meanMmHg: 70, lowest5MinMmHg: 60 },
  }) as never;

interface Hour {
  readonly both: number;
  readonly icp: number;
  readonly mean: number | null;
  readonly minutes: number;
}

const perfusionWith = (hours: readonly Hour[]) =>
  perfusionOf({
    joint: {
      hours: hours.map(({ both, icp }, i) => ({
        ...stretch(i),
        bothHours: both,
        icpAloneHours: icp,
        cppAloneHours: 0,
        neitherHours: 1 - both - icp,
      })),
    },
    prx: {
      hours: hours.map(({ mean, minutes }, i) => ({ ...stretch(i), mean, computableMinutes: minutes })),
    },
  });

const HOUR: Hour = { both: 0, icp: 0, mean: 0.2, minutes: 60 };

describe('perfusion by hours and days', () => {
  it('has in an hour what the hour has', () => {
    const perfusion = perfusionWith([HOUR, { both: 0.25, icp: 0.5, mean: null, minutes: 0 }]);
    const [first, second] = perfusionWindows([window(0), window(1)], perfusion);
    expect(first).toMatchObject({ bothHours: 0, neitherHours: 1, meanPrx: 0.2, prxMinutes: 60 });
    expect(second).toMatchObject({ bothHours: 0.25, icpAloneHours: 0.5, meanPrx: null, prxMinutes: 0 });
  });

  it('weighs the mean of a day by the minutes of each hour', () => {
    const hours = [
      { ...HOUR, mean: 0.5, minutes: 10 },
      { ...HOUR, mean: 0.1, minutes: 30 },
      { ...HOUR, mean: null, minutes: 0 },
    ];
    const [day] = perfusionWindows([window(0, 3)], perfusionWith(hours));
    expect(day.meanPrx).toBeCloseTo((0.5 * 10 + 0.1 * 30) / 40, 12);
    expect(day.prxMinutes).toBe(40);
  });

  it('says nothing of a time of which nothing is known', () => {
    const [none] = perfusionWindows([window(5)], perfusionWith([HOUR]));
    expect(none).toMatchObject({ bothHours: null, neitherHours: null, meanPrx: null, prxMinutes: 0 });
  });

  it('sums to the same by days as by hours', () => {
    const hour = fc.record({
      both: fc.double({ min: 0, max: 0.5, noNaN: true }),
      icp: fc.double({ min: 0, max: 0.5, noNaN: true }),
      mean: fc.option(fc.double({ min: -1, max: 1, noNaN: true })),
      minutes: fc.integer({ min: 1, max: 60 }),
    });
    fc.assert(
      fc.property(
        fc.array(hour, { minLength: 1, maxLength: 72 }),
        fc.integer({ min: 1, max: 24 }),
        (hours, step) => {
          const perfusion = perfusionWith(hours);
          const count = Math.ceil(hours.length / step);
          const days = perfusionWindows(
            Array.from({ length: count }, (_, i) =>
              window(i * step, Math.min(step, hours.length - i * step)),
            ),
            perfusion,
          );
          const sum = (values: readonly (number | null)[]): number =>
            values.reduce<number>((a, b) => a + (b ?? 0), 0);
          for (const key of ['bothHours', 'icpAloneHours', 'neitherHours'] as const)
            expect(sum(days.map((day) => day[key]))).toBeCloseTo(
              sum(perfusion.joint.hours.map((one) => one[key])),
              9,
            );
          expect(sum(days.map(({ prxMinutes }) => prxMinutes))).toBe(
            sum(hours.map(({ minutes }) => minutes)),
          );
        },
      ),
    );
  });
});
