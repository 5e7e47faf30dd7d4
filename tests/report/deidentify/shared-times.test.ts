import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ZoneClock } from '../../../src/recording/zone.js';
import {
  daysFromStart,
  elapsedTimes,
  sharedDay,
  sharedTime,
  shiftedTimes,
} from '../../../src/report/deidentify/shared-times.js';

const clock = new ZoneClock('Europe/Oslo');
const START = Date.parse('2031-02-11T19:00:20+01:00');
const at = (iso: string): number => Date.parse(iso);
const dayOf = (iso: string) => ({ utcMs: at(iso), endUtcMs: at(iso) + 86_400_000, isDay: true });

describe('elapsed times', () => {
  it('count from the whole minute in which monitoring began', () => {
    const times = elapsedTimes(START);
    expect(sharedTime(times, START)).toBe('20');
    expect(sharedTime(times, at('2031-02-11T20:00:00.250+01:00'))).toBe('3600.25');
    expect(sharedTime(times, at('2031-02-11T18:59:00+01:00'))).toBe('-60');
  });

  it('tell days by the calendar of the unit', () => {
    const times = elapsedTimes(START);
    expect(daysFromStart(times, at('2031-02-11T00:00:00+01:00'), clock)).toBe(0);
    expect(daysFromStart(times, at('2031-02-12T00:00:00+01:00'), clock)).toBe(1);
    expect(daysFromStart(times, at('2031-04-01T00:00:00+02:00'), clock)).toBe(49);
  });
});

describe('shifted times', () => {
  it('keep the time of day and move the date by whole days', () => {
    const times = shiftedTimes(START, -3, clock);
    expect(sharedTime(times, START)).toBe('2031-02-08 19:00:20');
    expect(sharedTime(times, START + 40)).toBe('2031-02-08 19:00:20.04');
    expect(sharedDay(times, dayOf('2031-02-12T00:00:00+01:00'), clock)).toBe('2031-02-09');
    expect(sharedDay(times, dayOf('2031-04-01T00:00:00+02:00'), clock)).toBe('2031-03-29');
  });

  it('keep durations over the night in which the clocks go forward', () => {
    const times = shiftedTimes(at('2031-03-29T22:00:00+01:00'), 10, clock);
    expect(sharedTime(times, at('2031-03-30T03:30:00+02:00'))).toBe('2031-04-09 02:30:00');
  });

  it('keep every duration, whatever the shift', () => {
    const ms = fc.integer({ min: 0, max: 30 * 86_400_000 });
    const shift = fc.integer({ min: -400, max: 400 }).filter((days) => days !== 0);
    fc.assert(
      fc.property(ms, ms, shift, (a, b, days) => {
        const times = shiftedTimes(START, days, clock);
        const read = (utcMs: number): number => Date.parse(`${sharedTime(times, utcMs).replace(' ', 'T')}Z`);
        expect(read(START + b) - read(START + a)).toBe(b - a);
        const elapsed = elapsedTimes(START);
        expect(Number(sharedTime(elapsed, START + a)) * 1000).toBeCloseTo(a + 20_000, 6);
      }),
    );
  });
});
