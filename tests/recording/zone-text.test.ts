import { describe, expect, it } from 'vitest';
import { Problem } from '../../src/recording/problem.js';
import { ZoneClock } from '../../src/recording/zone.js';

describe('an instant as text', () => {
  it.each([
    ['Europe/Oslo', Date.UTC(2031, 1, 11, 1, 10), '2031-02-11T02:10:00+01:00'],
    ['Europe/Oslo', Date.UTC(2024, 6, 1, 12), '2024-07-01T14:00:00+02:00'],
    ['America/Halifax', Date.UTC(2024, 0, 1, 3), '2023-12-31T23:00:00-04:00'],
    ['Asia/Kathmandu', Date.UTC(2024, 0, 1), '2024-01-01T05:45:00+05:45'],
    ['Australia/Lord_Howe', Date.UTC(2024, 6, 1), '2024-07-01T10:30:00+10:30'],
    ['UTC', Date.UTC(2024, 1, 29, 23, 59, 59), '2024-02-29T23:59:59+00:00'],
  ])('is local time with its offset in %s', (zone, utcMs, text) => {
    expect(new ZoneClock(zone).format(utcMs)).toBe(text);
    expect(Date.parse(text)).toBe(utcMs);
  });
  it('tells the two readings of a repeated hour apart', () => {
    const clock = new ZoneClock('Europe/Oslo');
    expect(clock.toUtc(Date.UTC(2024, 9, 27, 2, 30)).map((t) => clock.format(t))).toEqual([
      '2024-10-27T02:30:00+02:00',
      '2024-10-27T02:30:00+01:00',
    ]);
  });
  it('is rounded to the nearest second, also over a change of the clock', () => {
    const clock = new ZoneClock('Europe/Oslo');
    expect(clock.format(Date.UTC(2024, 0, 1) + 499)).toBe('2024-01-01T01:00:00+01:00');
    expect(clock.format(Date.UTC(2024, 2, 31, 1) - 0.4)).toBe('2024-03-31T03:00:00+02:00');
  });
});

describe('a zone that nobody knows', () => {
  it('is a problem with what to write instead', () => {
    expect(() => new ZoneClock('Nowhere/Here')).toThrow(Problem);
    expect(() => new ZoneClock('Nowhere/Here')).toThrow(
      /^"Nowhere\/Here" is no time zone that is known here\. Write an IANA name such as Europe\/Oslo, America\/Halifax or UTC\.$/,
    );
    expect(() => new ZoneClock('')).toThrow('"" is no time zone that is known here');
  });
});
