import { describe, expect, it } from 'vitest';
import {
  byPatientId,
  counted,
  days,
  dose,
  duration,
  isOverADay,
  listed,
  oneOfDays,
  pressure,
  seconds,
  share,
  signed,
} from '../../src/report/words.js';

describe('figures in words', () => {
  it('shows pressures with the digits of the monitor and a true minus sign', () => {
    expect([
      pressure(21.96, 1),
      pressure(21.96, 0),
      pressure(-4.04, 1),
      pressure(-0.04, 1),
      pressure(null, 1),
    ]).toEqual(['22.0', '22', '−4.0', '0.0', '–']);
  });

  it('shows differences with their sign, and none for none', () => {
    expect([signed(48.62, 1), signed(-14, 1), signed(0.04, 1), signed(-0.04, 1), signed(7.6, 0)]).toEqual([
      '+48.6',
      '−14.0',
      '0.0',
      '0.0',
      '+8',
    ]);
  });

  it('names the day of a time where the period is longer than one', () => {
    const night = { start: '2031-02-11T19:00:00+01:00', end: '2031-02-12T07:00:00+01:00' };
    const weekend = { ...night, end: '2031-02-13T07:00:00+01:00' };
    expect([night, weekend].map((period) => oneOfDays(isOverADay(period))(night.end))).toEqual([
      '07:00',
      '12 Feb 07:00',
    ]);
  });

  it('never shows a dose or a time that is there as none', () => {
    expect([dose(0), dose(0.01), dose(0.05), dose(54.78)]).toEqual(['0.0', '< 0.1', '0.1', '54.8']);
    expect([duration(0), duration(0.001), duration(0.5), duration(2), duration(6.795)]).toEqual([
      '0 min',
      '< 1 min',
      '30 min',
      '2 h',
      '6 h 48 min',
    ]);
  });

  it('calls only all 100 % and only none 0 %', () => {
    expect([share(0), share(0.001), share(0.333), share(0.9996), share(1)]).toEqual([
      '0 %',
      '< 1 %',
      '33 %',
      '> 99 %',
      '100 %',
    ]);
  });

  it('tells short lengths in seconds', () => {
    expect([seconds(5_000), seconds(60_000), seconds(185_000), seconds(7_440_000)]).toEqual([
      '5 s',
      '1 min',
      '3 min 5 s',
      '2 h 4 min',
    ]);
  });

  it('names the days of a night', () => {
    const at = (date: string): string => `${date}T19:00:00+01:00`;
    expect(days(at('2031-02-11'), at('2031-02-12'))).toBe('11 to 12 February 2031');
    expect(days(at('2031-01-31'), at('2031-02-01'))).toBe('31 January to 1 February 2031');
    expect(days(at('2031-12-31'), at('2032-01-01'))).toBe('31 December 2031 to 1 January 2032');
    expect(days(at('2031-02-11'), at('2031-02-11'))).toBe('11 February 2031');
  });

  it('counts and lists', () => {
    expect([counted(1, 'episode'), counted(0, 'episode'), counted(2, 'stretch', 'stretches')]).toEqual([
      '1 episode',
      '0 episodes',
      '2 stretches',
    ]);
    expect([listed([]), listed(['a']), listed(['a', 'b']), listed(['a', 'b', 'c'])]).toEqual([
      '',
      'a',
      'a and b',
      'a, b and c',
    ]);
  });

  it('sorts patient numbers as numbers, the rest as text, and 007 beside 7', () => {
    expect(['b', '10', '9', 'A2', '007', '7'].sort(byPatientId)).toEqual(['007', '7', '9', '10', 'A2', 'b']);
  });
});
