import { describe, expect, it } from 'vitest';
import { reviewersOf } from '../../src/report/morning/decision-words.js';
import { filesWords } from '../../src/report/morning/files-words.js';
import { longestStretches, zeroLine, zeroMovesWords } from '../../src/report/morning/probe-words.js';
import type { AgreementResult, RecordingResult } from '../../src/report/results-schema.js';
import {
  clockTime,
  doseCell,
  duration,
  durationCell,
  fromTo,
  span,
  timesOf,
} from '../../src/report/words.js';

const iso = (time: string, day = 12, offset = '+01:00'): string => `2031-02-${day}T${time}:00${offset}`;

describe('of many, a sheet of paper tells', () => {
  const move = (
    hour: number,
    beforeMmHg: number,
    afterMmHg: number,
  ): AgreementResult['zeroMoves'][number] => ({
    start: iso(`0${hour}:00`),
    end: iso(`0${hour}:00`),
    beforeMmHg,
    afterMmHg,
  });
  const zeroMoves = [move(1, 0, 9), move(2, 9, 4), move(3, 4, 12), move(4, 12, 5)];

  it('the largest changes of a zero by time, and how many more; all where there is room', () => {
    expect(zeroMovesWords({ zeroMoves, decimals: 0 }, clockTime)).toBe(
      'the difference between probe and drain went from 0 to +9 mmHg at 01:00, from +4 to +12 mmHg at 03:00 and from +12 to +5 mmHg at 04:00, and stayed there for an hour or more each time; and 1 smaller change',
    );
    expect(zeroMovesWords({ zeroMoves, decimals: 0 }, clockTime, 4)).not.toContain('smaller');
    const agreement = { zeroMoves: zeroMoves.slice(0, 1), decimals: 0 } as RecordingResult['agreement'];
    expect(zeroLine({ agreement }, clockTime)).toEqual([
      'A zero may have moved: the difference between probe and drain went from 0 to +9 mmHg at 01:00 and stayed there for an hour or more.',
    ]);
    expect(zeroLine({ agreement: null }, clockTime)).toEqual([]);
  });

  it('the first and the last of the files', () => {
    const files = (n: number): RecordingResult['files'] =>
      Array.from({ length: n }, (_, i) => ({ file: `${i + 1}.csv` })) as RecordingResult['files'];
    expect(filesWords({ files: files(1) })).toBe('From 1.csv.');
    expect(filesWords({ files: files(3) })).toBe('From 1.csv, 2.csv and 3.csv.');
    expect(filesWords({ files: files(336) })).toBe('From 336 files, 1.csv to 336.csv.');
  });

  it('the first of those who decided', () => {
    const names = (n: number): { reviewer: string }[] =>
      Array.from({ length: n }, (_, i) => ({ reviewer: `R${i + 1}` }));
    expect(reviewersOf([...names(2), ...names(2)])).toBe('R1 and R2');
    expect(reviewersOf(names(5))).toBe('R1, R2, R3, R4 and R5');
    expect(reviewersOf(names(9))).toBe('R1, R2, R3, R4 and 5 others');
  });

  it('the longest stretches by time, of equal length the earlier', () => {
    const of = (from: string, to: string) =>
      ({ start: iso(from), end: iso(to) }) as RecordingResult['suspect'][number];
    const told = longestStretches(
      [of('01:00', '01:10'), of('02:00', '02:20'), of('03:00', '03:10'), of('04:00', '04:30')],
      3,
    );
    expect(told.map(({ start }) => clockTime(start))).toEqual(['01:00', '02:00', '04:00']);
  });
});

describe('times of a period', () => {
  const night = { start: iso('19:00', 11), end: iso('07:00') };
  const autumn = { start: iso('19:00', 11, '+02:00'), end: iso('07:00') };
  const week = { start: iso('19:00', 10), end: iso('07:00') };

  it('are one instant each', () => {
    expect(timesOf(night)(iso('02:10'))).toBe('02:10');
    expect(timesOf(week)(iso('02:10'))).toBe('12 Feb 02:10');
    expect(timesOf(autumn)(iso('02:10', 12, '+02:00'))).toBe('02:10 +02:00');
  });

  it('name a day once where it is the same', () => {
    const [from, to] = [iso('02:10'), iso('03:00')];
    expect(fromTo({ start: from, end: to }, timesOf(night))).toBe('02:10 to 03:00');
    expect(fromTo({ start: from, end: to }, timesOf(week))).toBe('12 Feb 02:10 to 03:00');
    expect(fromTo({ start: iso('23:00', 11), end: to }, timesOf(week))).toBe('11 Feb 23:00 to 12 Feb 03:00');
    expect(span(from, to)).toBe('12 February 2031 02:10 to 03:00');
    expect(span(night.start, night.end)).toBe('11 February 2031 19:00 to 12 February 2031 07:00');
  });

  it('print the same for two sums that differ in their last bits', () => {
    const [a, b] = [0.1 + 0.2 + 701.2 / 60, 701.2 / 60 + 0.3];
    expect(duration(a)).toBe(duration(b));
    const tie = 701.5 / 60;
    expect(duration(tie - 2e-15)).toBe(duration(tie + 2e-15));
    expect(duration(0.5 / 60 - 1e-6)).toBe('< 1 min');
  });

  it('are a plain 0 in a table where there are none', () => {
    expect([durationCell(0), durationCell(0.001), durationCell(null), durationCell(2)]).toEqual([
      '0',
      '< 1 min',
      '–',
      '2 h',
    ]);
    expect([doseCell(0), doseCell(0.01), doseCell(null), doseCell(2)]).toEqual(['0', '< 0.1', '–', '2.0']);
  });
});
