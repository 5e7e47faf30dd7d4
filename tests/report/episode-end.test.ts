import { describe, expect, it } from 'vitest';
import { episodeEnd, goingOnNote } from '../../src/report/episode-end.js';
import { dayName, hourName } from '../../src/report/hour-name.js';
import type { EpisodeResult } from '../../src/report/results-schema.js';

const at = (time: string): string => `2031-02-12T${time}:00+01:00`;
const period = { start: '2031-02-11T19:00:00+01:00', end: at('07:00') };
const episode = (end: string, openEnd: boolean): EpisodeResult =>
  ({ end: at(end), openEnd }) as EpisodeResult;

describe('the end of an episode', () => {
  it.each([
    ['over', '06:00', false, '07:00'],
    ['cut', '06:00', true, '07:00'],
    ['goingOn', '07:00', true, '07:00'],
    ['goingOn', '08:30', false, '09:00'],
    ['goingOn', '06:40', true, '06:40'],
    ['over', '07:00', false, '07:00'],
  ] as const)('is %s where it ends at %s (open: %s) and the data at %s', (how, end, isOpen, dataEnd) => {
    expect(episodeEnd(episode(end, isOpen), { end: at(dataEnd), period })).toBe(how);
  });

  it('is told where there is none', () => {
    const told = (end: string, isOpen: boolean, dataEnd: string): string | null =>
      goingOnNote({ end: at(dataEnd), period, episodes: [episode(end, isOpen)] }, 22);
    expect(told('07:00', true, '07:00')).toBe('ICP was still above 22 mmHg at 07:00.');
    expect(told('06:40', true, '06:40')).toBe('ICP was still above 22 mmHg when the data end at 06:40.');
    expect(told('06:00', false, '07:00')).toBeNull();
  });
});

describe('the name of an hour', () => {
  it('has its day in a long period, and says where the clock is changed', () => {
    expect(hourName({ start: at('02:00'), end: at('03:00') }, false)).toBe('02:00 to 03:00');
    expect(hourName({ start: at('02:00'), end: at('03:00') }, true)).toBe('12 Feb 02:00 to 03:00');
    const back = { start: '2031-10-26T02:00:00+02:00', end: '2031-10-26T02:00:00+01:00' };
    expect(hourName(back, false)).toBe('02:00 to 02:00 (clock set back)');
    const forward = { start: '2031-03-30T01:00:00+01:00', end: '2031-03-30T03:00:00+02:00' };
    expect(hourName(forward, false)).toBe('01:00 to 03:00 (clock set forward)');
  });
});

describe('the name of a day', () => {
  it('has the times at which the period begins or ends inside it', () => {
    expect(dayName({ start: at('00:00'), end: '2031-02-13T00:00:00+01:00' })).toMatch(/^12 Feb\w*$/);
    expect(dayName({ start: at('19:00'), end: '2031-02-13T00:00:00+01:00' })).toMatch(
      /^12 Feb\w* from 19:00$/,
    );
    expect(dayName({ start: at('00:00'), end: at('07:00') })).toMatch(/^12 Feb\w* to 07:00$/);
  });
});
