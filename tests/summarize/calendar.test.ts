import { describe, expect, it } from 'vitest';
import { ZoneClock } from '../../src/recording/zone.js';
import { hoursIn, nightsIn } from '../../src/summarize/calendar.js';

const oslo = new ZoneClock('Europe/Oslo');
const SEVEN_TO_SEVEN = { fromMinutes: 19 * 60, toMinutes: 7 * 60 };
const interval = (start: string, end: string) => ({ start: Date.parse(start), end: Date.parse(end) });
const asText = (intervals: readonly { start: number; end: number }[], clock = oslo): string[] =>
  intervals.map(({ start, end }) => `${clock.format(start)} ${clock.format(end)}`);
const hoursLong = ({ start, end }: { start: number; end: number }): number => (end - start) / 3_600_000;

describe('nights by the clock on the wall', () => {
  it('are all that share time with the recording, whole', () => {
    const stay = interval('2031-02-10T18:00:00+01:00', '2031-02-12T07:00:00+01:00');
    expect(asText(nightsIn(stay, SEVEN_TO_SEVEN, oslo))).toEqual([
      '2031-02-10T19:00:00+01:00 2031-02-11T07:00:00+01:00',
      '2031-02-11T19:00:00+01:00 2031-02-12T07:00:00+01:00',
    ]);
  });
  it('include the one that a recording begins in, and leave out one that it only touches', () => {
    const stay = interval('2031-02-11T03:00:00+01:00', '2031-02-11T19:00:00+01:00');
    expect(asText(nightsIn(stay, SEVEN_TO_SEVEN, oslo))).toEqual([
      '2031-02-10T19:00:00+01:00 2031-02-11T07:00:00+01:00',
    ]);
  });
  it('may lie within one day', () => {
    const stay = interval('2031-02-11T00:00:00+01:00', '2031-02-11T23:00:00+01:00');
    expect(asText(nightsIn(stay, { fromMinutes: 60, toMinutes: 6 * 60 }, oslo))).toEqual([
      '2031-02-11T01:00:00+01:00 2031-02-11T06:00:00+01:00',
    ]);
  });
  it('last 13 hours where the clock goes back, and 11 where it goes forward', () => {
    const back = interval('2024-10-26T20:00:00+02:00', '2024-10-27T06:00:00+01:00');
    const forward = interval('2024-03-30T20:00:00+01:00', '2024-03-31T06:00:00+02:00');
    expect(nightsIn(back, SEVEN_TO_SEVEN, oslo).map(hoursLong)).toEqual([13]);
    expect(nightsIn(forward, SEVEN_TO_SEVEN, oslo).map(hoursLong)).toEqual([11]);
  });
  it('end where the clock goes on when their end is skipped', () => {
    const stay = interval('2024-03-30T23:00:00+01:00', '2024-03-31T06:00:00+02:00');
    const [night] = nightsIn(stay, { fromMinutes: 22 * 60, toMinutes: 150 }, oslo);
    expect(asText([night])).toEqual(['2024-03-30T22:00:00+01:00 2024-03-31T03:30:00+02:00']);
  });
});

describe('hours by the clock on the wall', () => {
  it('fill the window, the first and the last cut to it', () => {
    const window = interval('2031-02-11T19:20:00+01:00', '2031-02-11T22:05:00+01:00');
    expect(asText(hoursIn(window, oslo))).toEqual([
      '2031-02-11T19:20:00+01:00 2031-02-11T20:00:00+01:00',
      '2031-02-11T20:00:00+01:00 2031-02-11T21:00:00+01:00',
      '2031-02-11T21:00:00+01:00 2031-02-11T22:00:00+01:00',
      '2031-02-11T22:00:00+01:00 2031-02-11T22:05:00+01:00',
    ]);
  });
  it('stand on whole hours also where the zone is a quarter of an hour off', () => {
    const kathmandu = new ZoneClock('Asia/Kathmandu');
    const window = interval('2031-02-11T00:00:00Z', '2031-02-11T01:00:00Z');
    expect(asText(hoursIn(window, kathmandu), kathmandu)).toEqual([
      '2031-02-11T05:45:00+05:45 2031-02-11T06:00:00+05:45',
      '2031-02-11T06:00:00+05:45 2031-02-11T06:45:00+05:45',
    ]);
  });
  it.each([
    ['Europe/Oslo', '2024-10-26T19:00:00+02:00', '2024-10-27T07:00:00+01:00'],
    ['Europe/Oslo', '2024-03-30T19:00:00+01:00', '2024-03-31T07:00:00+02:00'],
    ['Australia/Lord_Howe', '2024-04-06T19:00:00+11:00', '2024-04-07T07:00:00+10:30'],
    ['Australia/Lord_Howe', '2024-10-05T19:00:00+10:30', '2024-10-06T07:00:00+11:00'],
  ])('follow each other without a hole over a change of the clock in %s from %s', (zone, start, end) => {
    const clock = new ZoneClock(zone);
    const window = interval(start, end);
    const hours = hoursIn(window, clock);
    expect(hours[0].start).toBe(window.start);
    expect(hours.at(-1)!.end).toBe(window.end);
    hours.forEach((hour, i) => {
      if (i > 0) expect(hour.start).toBe(hours[i - 1].end);
      expect(hoursLong(hour)).toBeLessThanOrEqual(1);
      // Lord Howe moves its clock by half an hour, so the hour after the change is a half one there.
      const isChange = clock.offsetMsAt(hour.end) !== clock.offsetMsAt(hour.end - 1);
      if (!isChange) expect(clock.toLocal(hour.end) % 3_600_000, clock.format(hour.end)).toBe(0);
    });
  });
});
