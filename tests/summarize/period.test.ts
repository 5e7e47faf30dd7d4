import { describe, expect, it } from 'vitest';
import { ZoneClock } from '../../src/recording/zone.js';
import { resolvePeriod } from '../../src/summarize/period.js';

const clock = new ZoneClock('Europe/Oslo');
const NIGHT = { fromMinutes: 19 * 60, toMinutes: 7 * 60 };
const until = (end: string) => ({ start: Date.parse('2031-02-10T18:00:00+01:00'), end: Date.parse(end) });
const lastNightOf = (end: string): string => {
  const { start, word } = resolvePeriod('lastNight', until(end), NIGHT, clock);
  return `${word} from ${clock.format(start)}`;
};

describe('the period of a report', () => {
  it('is the last night, in an export pulled in the morning, at 05:00 or at 19:30', () => {
    const expected = 'night from 2031-02-11T19:00:00+01:00';
    expect(lastNightOf('2031-02-12T07:30:00+01:00')).toBe(expected);
    expect(lastNightOf('2031-02-12T05:00:00+01:00')).toBe(expected);
    expect(lastNightOf('2031-02-12T19:30:00+01:00')).toBe(expected);
  });
  it('is a night from the moment on that the data reach half of it', () => {
    expect(lastNightOf('2031-02-12T01:00:00+01:00')).toBe('night from 2031-02-11T19:00:00+01:00');
    expect(lastNightOf('2031-02-12T00:59:59+01:00')).toBe('night from 2031-02-10T19:00:00+01:00');
  });
  it('is all of the data where they reach no night, and where all is asked for', () => {
    const extent = until('2031-02-10T18:30:00+01:00');
    expect(resolvePeriod('lastNight', extent, NIGHT, clock)).toMatchObject({ ...extent, word: 'period' });
    expect(resolvePeriod('all', until('2031-02-12T07:00:00+01:00'), NIGHT, clock)).toMatchObject(
      until('2031-02-12T07:00:00+01:00'),
    );
  });
  it('is the one that the pipeline file names', () => {
    const choice = { start: 1, end: 2 };
    expect(resolvePeriod(choice, until('2031-02-12T07:00:00+01:00'), NIGHT, clock)).toMatchObject({
      ...choice,
      word: 'period',
    });
  });
});
