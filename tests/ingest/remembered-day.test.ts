import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { calendarReader, type WrittenTime } from '../../src/ingest/time/calendar.js';
import { seeded, wall } from './support.js';

/** A reader that gives null for what is no time. */
const reader = (): ((text: string) => WrittenTime | null) => {
  const read = calendarReader();
  return (text) => {
    const time = read(text);
    return typeof time === 'string' ? null : time;
  };
};

/** What a reader with no memory says. */
const fresh = (text: string) => reader()(text);

describe('the reader of times that remembers the last day', () => {
  test('goes over midnight, month and year, forward and back', () => {
    const read = reader();
    for (const ms of [
      Date.UTC(2031, 11, 31, 23, 59, 59),
      Date.UTC(2032, 0, 1),
      Date.UTC(2032, 1, 28, 23, 59, 59),
      Date.UTC(2032, 1, 29),
      Date.UTC(2032, 2, 1),
      Date.UTC(2031, 11, 31, 12),
    ]) {
      expect(read(wall(ms))).toEqual({ localMs: ms, offsetMs: null });
    }
  });

  test('refuses a day that the calendar lacks behind a good day of the same length', () => {
    const read = reader();
    expect(read('2031-02-28 23:59:59')?.localMs).toBe(Date.UTC(2031, 1, 28, 23, 59, 59));
    expect(read('2031-02-29 00:00:00')).toBeNull();
    expect(read('2031-02-29 00:00:01')).toBeNull();
    expect(read('2031-02-28 23:59:58')?.localMs).toBe(Date.UTC(2031, 1, 28, 23, 59, 58));
  });

  test('refuses an hour, a minute or a second that no clock shows on the remembered day', () => {
    const read = reader();
    read('2031-02-28 10:00:00');
    for (const time of ['24:00:01', '99:00:00', '10:60:00', '10:00:60']) {
      expect(read(`2031-02-28 ${time}`)).toBeNull();
    }
  });

  test('takes 24:00 for the end of the remembered day, and goes on in that day', () => {
    const read = reader();
    expect(read('2031-02-28 24:00:00')?.localMs).toBe(Date.UTC(2031, 2, 1));
    expect(read('2031-02-28 10:00:00')?.localMs).toBe(Date.UTC(2031, 1, 28, 10));
    expect(read('2031-02-28 24:00:00')?.localMs).toBe(Date.UTC(2031, 2, 1));
    expect(read('2031-02-28 10:00:01')?.localMs).toBe(Date.UTC(2031, 1, 28, 10, 0, 1));
  });

  test('refuses letters and other separators on the remembered day', () => {
    const read = reader();
    read('2031-02-28 10:00:00');
    for (const text of [
      '2031-02-28 1o:00:00',
      '2031-02-28x10:00:00',
      '2031-02-28 10-00-00',
      '2031-02-28 10:0.00',
    ]) {
      expect(read(text)).toBeNull();
    }
  });

  test('remembers nothing of a first cell that is no time', () => {
    const read = reader();
    expect(read('2031-02-30 10:00:00')).toBeNull();
    expect(read('2031-02-30 10:00:00')).toBeNull();
    expect(read('2031-02-28 10:00:00')?.localMs).toBe(Date.UTC(2031, 1, 28, 10));
  });

  test('reads each cell of any list as a reader without memory would', () => {
    const day = fc.constantFrom(
      ...['2031-02-28', '2031-02-29', '2032-02-29', '2031-03-01', '1969-12-31', '2031/02/28', '11.11.2031'],
    );
    const time = fc.constantFrom(
      '00:00:00',
      '23:59:59',
      '24:00:00',
      '24:00:01',
      '10:61:00',
      '10:00',
      '10:00:00.5',
    );
    const ending = fc.constantFrom('', 'Z', '+01:00', ' ', 'x');
    const cell = fc
      .tuple(day, fc.constantFrom(' ', 'T'), time, ending)
      .map(([d, separator, t, e]) => d + separator + t + e);
    fc.assert(
      fc.property(fc.array(cell, { minLength: 2, maxLength: 12 }), (cells) => {
        const read = reader();
        expect(cells.map((text) => read(text))).toEqual(cells.map(fresh));
      }),
      seeded(3_000),
    );
  });
});
