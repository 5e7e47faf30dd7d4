import fc from 'fast-check';
import { Temporal } from 'temporal-polyfill';
import { describe, expect, test } from 'vitest';
import type { DateOrder } from '../../src/ingest/settings.js';
import { calendarReader, type WrittenTime } from '../../src/ingest/time/calendar.js';
import { seeded } from './support.js';

/** A reader that gives null for what is no time. */
const reader = (order: DateOrder | null = null): ((text: string) => WrittenTime | null) => {
  const read = calendarReader(order);
  return (text) => {
    const time = read(text);
    return typeof time === 'string' ? null : time;
  };
};

const read = (text: string) => reader()(text);
const hourOf = ({ hour, minute, second }: { hour: number; minute: number; second: number }): string =>
  `${hour}:${minute}:${second}`;
const two = (n: number): string => String(n).padStart(2, '0');

describe('a time in a cell', () => {
  // Expected values: Date.UTC of ECMA-262.
  test.each([
    ['2031-02-11 02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11T02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11 02:10', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11 02:10:07.5', Date.UTC(2031, 1, 11, 2, 10, 7, 500), null],
    ['2031-02-11 02:10:07,25', Date.UTC(2031, 1, 11, 2, 10, 7, 250), null],
    ['2031-02-11T02:10:07.123Z', Date.UTC(2031, 1, 11, 2, 10, 7, 123), 0],
    ['2031-02-11T02:10:07.000000000Z', Date.UTC(2031, 1, 11, 2, 10, 7), 0],
    ['2031-02-11 02:10:00Z', Date.UTC(2031, 1, 11, 2, 10), 0],
    ['2031-02-11 02:10:00+01:00', Date.UTC(2031, 1, 11, 2, 10), 3_600_000],
    ['2031-02-11 02:10:00 +0100', Date.UTC(2031, 1, 11, 2, 10), 3_600_000],
    ['2031-02-11T02:10:00+01', Date.UTC(2031, 1, 11, 2, 10), 3_600_000],
    ['2031-02-11T02:10:00-03:30', Date.UTC(2031, 1, 11, 2, 10), -12_600_000],
    ['2031-02-11T02:10:00+05:45', Date.UTC(2031, 1, 11, 2, 10), 20_700_000],
    ['2031-12-31 23:59:59', Date.UTC(2031, 11, 31, 23, 59, 59), null],
    ['1969-12-31 23:59:59', Date.UTC(1969, 11, 31, 23, 59, 59), null],
    ['2032-02-29 00:00:00', Date.UTC(2032, 1, 29), null],
    ['2000-02-29 00:00:00', Date.UTC(2000, 1, 29), null],
    ['2031-02-11 24:00:00', Date.UTC(2031, 1, 12), null],
    ['2031-02-11 24:00', Date.UTC(2031, 1, 12), null],
    ['2031-12-31 24:00:00', Date.UTC(2032, 0, 1), null],
    ['2031-2-11 2:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11  02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11_02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11, 02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031/02/11 02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031.02.11 02:10', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11 02.10.05', Date.UTC(2031, 1, 11, 2, 10, 5), null],
    ['2031-02-11 02:10:07:250', Date.UTC(2031, 1, 11, 2, 10, 7, 250), null],
    ['20310211T021000', Date.UTC(2031, 1, 11, 2, 10), null],
    ['20310211T021000Z', Date.UTC(2031, 1, 11, 2, 10), 0],
    ['20310211 0210', Date.UTC(2031, 1, 11, 2, 10), null],
    ['20310211021000', Date.UTC(2031, 1, 11, 2, 10), null],
    ['20310211021000.5', Date.UTC(2031, 1, 11, 2, 10, 0, 500), null],
    ['2031-02-11 02:10:00 PM', Date.UTC(2031, 1, 11, 14, 10), null],
    ['2031-02-11 2:10 a.m.', Date.UTC(2031, 1, 11, 2, 10), null],
    ['2031-02-11 12:00:00 AM', Date.UTC(2031, 1, 11), null],
    ['2031-02-11 12:30 PM', Date.UTC(2031, 1, 11, 12, 30), null],
    ['2031-02-11 02:10:00+1', Date.UTC(2031, 1, 11, 2, 10), 3_600_000],
    ['2031-02-11 02:10:00+1:00', Date.UTC(2031, 1, 11, 2, 10), 3_600_000],
    ['2031-02-11 02:10:00 UTC', Date.UTC(2031, 1, 11, 2, 10), 0],
    ['2031-02-11 02:10:00 GMT-03:30', Date.UTC(2031, 1, 11, 2, 10), -12_600_000],
    ['11 Feb 2031 02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['11-FEB-2031 02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['11. Februar 2031 02:10', Date.UTC(2031, 1, 11, 2, 10), null],
    ['February 11, 2031 2:10 PM', Date.UTC(2031, 1, 11, 14, 10), null],
    ['Tue, 11 Feb 2031 02:10:00', Date.UTC(2031, 1, 11, 2, 10), null],
    ['02:10:00 2031-02-11', Date.UTC(2031, 1, 11, 2, 10), null],
    ['11/11/2031 02:10', Date.UTC(2031, 10, 11, 2, 10), null],
  ])('is read from %j', (text, localMs, offsetMs) => {
    expect(read(text)).toEqual({ localMs, offsetMs });
  });

  test.each([
    ['03/04/2031 02:10:00', Date.UTC(2031, 3, 3, 2, 10), Date.UTC(2031, 2, 4, 2, 10)],
    ['3.4.2031 02:10', Date.UTC(2031, 3, 3, 2, 10), Date.UTC(2031, 2, 4, 2, 10)],
    ['13-02-2031 02:10', Date.UTC(2031, 1, 13, 2, 10), null],
    ['02/13/2031 2:10 pm', null, Date.UTC(2031, 1, 13, 14, 10)],
    ['31/02/2031 02:10', null, null],
  ])('with the year last is read in the order that is said: %j', (text, dayFirst, monthFirst) => {
    expect(reader('dayFirst')(text)?.localMs ?? null).toBe(dayFirst);
    expect(reader('monthFirst')(text)?.localMs ?? null).toBe(monthFirst);
    expect(read(text)).toBeNull();
  });

  test.each([
    ['03/04/2031 02:10', null, 'orderUnknown'],
    ['13/04/2031 02:10', null, 'orderUnknown'],
    ['13/04/2031 02:10', 'monthFirst', 'otherOrder'],
    ['04/13/2031 02:10', 'dayFirst', 'otherOrder'],
    ['31/04/2031 02:10', 'dayFirst', 'noSuchTime'],
    ['13/13/2031 02:10', 'dayFirst', 'noSuchTime'],
    ['2031-02-29 02:10', null, 'noSuchTime'],
    ['2031-02-11 24:01', null, 'noSuchTime'],
    ['2031-02-11 13:00 PM', null, 'noSuchTime'],
    ['2031-02-11 00:30 AM', null, 'noSuchTime'],
    ['2031-02-11', null, 'noClock'],
    ['11 Feb 2031', null, 'noClock'],
    ['02:10:00', null, 'noDate'],
    ['11.02.31 02:10', null, 'twoDigitYear'],
    ['11/02/31 02:10', 'dayFirst', 'twoDigitYear'],
    ['11-Feb-31 02:10', null, 'twoDigitYear'],
    ['31-02-11 02:10:00', null, 'twoDigitYear'],
    ['11 Foo 2031 02:10', null, 'unreadable'],
    ['soon', null, 'unreadable'],
  ] as const)('is not found in %j, order %s: %s', (text, order, fault) => {
    expect(calendarReader(order)(text)).toBe(fault);
  });

  test.each([
    ...['2031-02-29 00:00:00', '2100-02-29 00:00:00', '2031-04-31 00:00:00', '2031-02-30T10:00'],
    ...['2031-00-10 00:00:00', '2031-13-10 00:00:00', '2031-02-00 00:00:00', '2031-02-32 00:00:00'],
    ...['2031-02-11 24:00:01', '2031-02-11 24:01', '2031-02-11 25:00:00', '2031-02-11 10:60:00'],
    ...['2031-02-11 10:00:60', '0031-02-11 02:10:00', '0000-02-11 02:10:00', '31-02-11 02:10:00'],
    ...['2031-02-11 02:10:00+24:00', '2031-02-11 02:10:00+01:60', '2031-02-11 02:10:00+99:99'],
    ...['2031-02-11 02:10:00 CET', '2031-02-11 02:10:00+', '2031-02-11 02:10:00 XM'],
    ...['2031-02-11', '02:10:00', '2031-02/11 02:10:00', '2031-02-11 02:10.00', '2031-02-11 2:1:00'],
    ...['2031-02-11 02:10:00.', '2031-02-11 02:10:00.1234567890', '2031-02-11 0:30 PM'],
    ...['11.02.2031 02:10:00', '02/11/2031 02:10', '11-02-2031 02:10:00', '20310230T021000'],
    ...['1928542200', '1928542200000', '47895.09', '', ' ', 'Time', '2031-02-11x02:10:00'],
    ...['\uff12\uff10\uff13\uff11-02-11 02:10:00', '+2031-02-11 02:10:00', '2031-02-11 02:10:00Zulu'],
  ])('is not found in %j', (text) => {
    expect(read(text)).toBeNull();
  });

  test('exists exactly where the calendar of Temporal has the day', () => {
    const parts = fc.record({
      year: fc.integer({ min: 1900, max: 2200 }),
      month: fc.integer({ min: 0, max: 14 }),
      day: fc.integer({ min: 0, max: 33 }),
      hour: fc.integer({ min: 0, max: 25 }),
      minute: fc.integer({ min: 0, max: 61 }),
      second: fc.integer({ min: 0, max: 61 }),
      separator: fc.constantFrom(' ', 'T'),
    });
    fc.assert(
      fc.property(parts, ({ separator, ...fields }) => {
        // 24:00, the end of the day, is unknown to Temporal.
        fc.pre(hourOf(fields) !== '24:0:0');
        const { year, month, day, hour, minute, second } = fields;
        const text = `${year}-${two(month)}-${two(day)}${separator}${two(hour)}:${two(minute)}:${two(second)}`;
        let expected: number | null = null;
        try {
          expected = Temporal.PlainDateTime.from(fields, { overflow: 'reject' }).toZonedDateTime(
            'UTC',
          ).epochMilliseconds;
        } catch {}
        expect([text, read(text)?.localMs ?? null]).toEqual([text, expected]);
      }),
      seeded(5_000),
    );
  });

  test('with milliseconds and an offset is the instant that Date.parse of ECMA-262 finds', () => {
    const instant = fc.integer({ min: Date.UTC(1970, 0, 1), max: Date.UTC(2099, 11, 31) });
    // Clocks are set in quarters of an hour.
    const offset = fc.integer({ min: -12 * 4, max: 14 * 4 }).map((quarters) => quarters * 15);
    fc.assert(
      fc.property(instant, offset, (ms, minutes) => {
        const digits = new Date(ms + minutes * 60_000).toISOString().slice(0, 23);
        const away = Math.abs(minutes);
        const text = `${digits}${minutes < 0 ? '-' : '+'}${two(Math.floor(away / 60))}:${two(away % 60)}`;
        const time = read(text);
        expect((time?.localMs ?? 0) - (time?.offsetMs ?? 0)).toBe(Date.parse(text));
      }),
      seeded(5_000),
    );
  });
});
