import { describe, expect, it } from 'vitest';
import { ZoneClock } from '../../src/recording/zone.js';
import { timeAxis } from '../../src/report/charts/time-axis.js';
import { T0 } from '../support/signals.js';

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;

const axisOf = (start: string, hours: number, zone: string, width = 780) =>
  timeAxis({ start: Date.parse(start), end: Date.parse(start) + hours * HOUR }, new ZoneClock(zone), width);

const labelsOf = (...of: Parameters<typeof axisOf>): string[] =>
  axisOf(...of).ticks.map(({ at, lines }) => `${at}: ${lines.join(' / ')}`);

describe('a time axis', () => {
  it('labels the clock on the wall, with the day under the first label and under midnight', () => {
    expect(labelsOf('2031-02-11T22:40:00Z', 1, 'Europe/Oslo')).toEqual([
      '0: 23:40 / 11 Feb',
      '5: 23:45',
      '10: 23:50',
      '15: 23:55',
      '20: 00:00 / 12 Feb',
      '25: 00:05',
      '30: 00:10',
      '35: 00:15',
      '40: 00:20',
      '45: 00:25',
      '50: 00:30',
      '55: 00:35',
      '60: 00:40',
    ]);
    expect(labelsOf('2031-02-11T18:30:00Z', 2.5, 'Asia/Kathmandu').slice(0, 2)).toEqual([
      '0: 00:15 / 12 Feb',
      '15: 00:30',
    ]);
  });

  it.each([
    [10 / 60, 1],
    [20 / 60, 2],
    [1, 5],
    [2, 10],
    [3, 15],
    [6, 30],
    [12, 60],
    [24, 120],
    [36, 180],
    [48, 360],
    [72, 360],
    [96, 1440],
    [14 * 24, 1440],
    [28 * 24, 2880],
  ])('puts labels of %d h %d min apart', (hours, minutes) => {
    const at = axisOf('2031-02-11T13:07:31Z', hours, 'Europe/Oslo').ticks.map((tick) => tick.at);
    expect(at.length).toBeGreaterThan(2);
    expect([...new Set(at.slice(1).map((x, i) => Math.round((x - at[i]) * 100) / 100))]).toEqual([minutes]);
  });

  it('stands at the instant itself where the window starts between minutes', () => {
    const [first] = axisOf('2031-02-11T13:07:31Z', 0.2, 'UTC').ticks;
    expect(first).toEqual({ at: 0.4833, lines: ['13:08', '11 Feb'] });
  });

  it('names days alone over more than three days, each where it begins', () => {
    expect(labelsOf('2031-02-26T12:00:00Z', 96, 'Europe/Oslo')).toEqual([
      '660: 27 Feb',
      '2100: 28 Feb',
      '3540: 1 Mar',
      '4980: 2 Mar',
    ]);
    const autumn = axisOf('2031-10-24T22:00:00Z', 96, 'Europe/Oslo');
    expect(autumn.midnights).toEqual([0, 1440, 2940, 4380]);
  });

  it('tells the repeated hour apart, and shows a skipped hour never', () => {
    expect(labelsOf('2031-10-25T22:00:00Z', 8, 'Europe/Oslo').slice(2, 8)).toEqual([
      '120: 02:00 / +02:00',
      '180: 02:00 / +01:00',
      '240: 03:00',
      '300: 04:00',
      '360: 05:00',
      '420: 06:00',
    ]);
    expect(labelsOf('2031-10-25T23:50:00Z', 1.5, 'Europe/Oslo')).toEqual([
      '0: 01:50 / 26 Oct',
      '10: 02:00 / +02:00',
      '20: 02:10 / +02:00',
      '30: 02:20 / +02:00',
      '40: 02:30 / +02:00',
      '50: 02:40 / +02:00',
      '60: 02:50 / +02:00',
      '70: 02:00 / +01:00',
      '80: 02:10 / +01:00',
      '90: 02:20 / +01:00',
    ]);
    expect(labelsOf('2031-03-29T23:00:00Z', 8, 'Europe/Oslo').slice(0, 4)).toEqual([
      '0: 00:00 / 30 Mar',
      '60: 01:00 / +01:00',
      '120: 03:00 / +02:00',
      '180: 04:00',
    ]);
  });

  it('tells half an hour apart, where the clock is set by that', () => {
    expect(labelsOf('2031-04-05T14:00:00Z', 3, 'Australia/Lord_Howe').slice(0, 7)).toEqual([
      '0: 01:00 / 6 Apr',
      '15: 01:15',
      '30: 01:30 / +11:00',
      '45: 01:45 / +11:00',
      '60: 01:30 / +10:30',
      '75: 01:45 / +10:30',
      '90: 02:00',
    ]);
  });

  it('begins a day where the clock goes on, where it skips midnight', () => {
    // Chile sets its clocks from 24:00 to 01:00: zone data of IANA.
    const axis = axisOf('2031-09-07T02:00:00Z', 6, 'America/Santiago');
    expect(axis.midnights).toEqual([120]);
    expect(axis.ticks.find(({ at }) => at === 120)?.lines).toEqual(['01:00', '7 Sep', '-03:00']);
  });

  it('has labels at least 46 pixels apart at every window, also beside a change of the clock', () => {
    for (const zone of ['Europe/Oslo', 'Australia/Lord_Howe', 'America/Santiago']) {
      for (const start of [
        '2031-02-11',
        '2031-03-29',
        '2031-04-05',
        '2031-09-06',
        '2031-10-04',
        '2031-10-25',
      ]) {
        for (const hours of [0, 0.17, 0.5, 1, 3, 7, 12, 18, 24, 31, 40, 48, 72, 73, 96, 336, 720]) {
          for (const width of [780, 560]) {
            const { ticks, endMinutes } = axisOf(`${start}T11:13:17Z`, hours, zone, width);
            const at = ticks.map((tick) => (tick.at / endMinutes) * width);
            expect(at.length).toBeGreaterThan(0);
            expect(at.length).toBeLessThanOrEqual(width / 46 + 1);
            at.slice(1).forEach((x, i) => {
              expect(x - at[i]).toBeGreaterThan(45.9);
            });
          }
        }
      }
    }
  });

  it('says whose clock it is, in a line that is free', () => {
    const night = axisOf('2031-02-11T18:00:00Z', 12, 'Europe/Oslo');
    expect([night.zone, night.zoneLine]).toEqual(['local time, Europe/Oslo', 1]);
    expect(axisOf('2031-02-11T10:00:00Z', 13.5, 'Europe/Oslo').zoneLine).toBe(2);
    expect(timeAxis({ start: T0, end: T0 }, new ZoneClock('UTC'), 780)).toMatchObject({
      zone: 'UTC',
      endMinutes: 1,
      ticks: [
        { at: 0, lines: ['18:00', '11 Feb'] },
        { at: 1, lines: ['18:01'] },
      ],
    });
  });
});
