import { describe, expect, it } from 'vitest';
import { wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, type Signal } from '../../src/recording/signal.js';
import { type IcpFigures, icpFigures } from '../../src/summarize/pressure-figures.js';
import { RAMP, seconds, TRIANGLE } from '../support/shapes.js';
import { everySeconds } from '../support/signals.js';
import { ADULT } from '../support/targets.js';

const figuresOf = (signal: Signal, intervalSeconds: number, window = wholeOf(signal)): IcpFigures =>
  icpFigures({ signal, window, intervalMs: intervalSeconds * 1000 }, ADULT);

describe('the figures of ICP', () => {
  it('of a ramp from 0 to 36 mmHg over an hour are the closed forms', () => {
    const figures = figuresOf(RAMP, 60);
    expect(figures.meanMmHg).toBeCloseTo(18, 9);
    expect(figures.medianMmHg).toBeCloseTo(18, 9);
    expect(figures.highest5MinMmHg).toBeCloseTo(34.5, 9);
    expect(figures.hoursBelowBand).toBeCloseTo(5 / 36, 9);
    expect(figures.hoursWithinBand).toBeCloseTo(10 / 36, 9);
    expect(figures.hoursAboveBand).toBeCloseTo(21 / 36, 9);
    expect(figures.hoursAboveThreshold).toBeCloseTo(14 / 36, 9);
    expect(figures.doseMmHgHours).toBeCloseTo((14 * 14) / 72, 9);
  });
  it('hold no reason where they hold a number', () => {
    expect(Object.keys(figuresOf(TRIANGLE, 60)).filter((key) => key.endsWith('Reason'))).toEqual([]);
  });
  it('count ICP that stays on exactly 5 or 15 mmHg as within the band', () => {
    // Five pieces of 10 min, each flat, joined by one-second flanks.
    const levels = [4, 5, 10, 15, 16];
    const points = levels.flatMap((level) => Array(601).fill(level));
    const { hoursBelowBand, hoursWithinBand, hoursAboveBand } = figuresOf(everySeconds(1, points), 1);
    expect(hoursBelowBand).toBeCloseTo((600 + 1) / 3600, 9);
    expect(hoursWithinBand).toBeCloseTo((1800 + 2) / 3600, 9);
    expect(hoursAboveBand).toBeCloseTo((600 + 1) / 3600, 9);
  });
  it('count ICP that stays on exactly 22 mmHg as not above the threshold', () => {
    const figures = figuresOf(everySeconds(60, Array(61).fill(22)), 60);
    expect(figures.hoursAboveThreshold).toBe(0);
    expect(figures.doseMmHgHours).toBe(0);
    expect(figures.hoursAboveBand).toBe(1);
  });
});

describe('the figures of ICP that cannot be shown', () => {
  const KEYS = [
    'meanMmHg',
    'medianMmHg',
    'highest5MinMmHg',
    'hoursBelowBand',
    'hoursWithinBand',
    'hoursAboveBand',
    'hoursAboveThreshold',
    'doseMmHgHours',
  ] as const;
  it('are all null where nothing is known, and say so', () => {
    for (const figures of [figuresOf(emptySignal, 0), figuresOf(RAMP, 60, seconds(3600, 7200))]) {
      for (const key of KEYS) {
        expect(figures[key]).toBeNull();
        expect(figures[`${key}Reason`]).toBe('no ICP in this time');
      }
    }
  });
  it('are all there at one sample every 5 min, but for the 5-min means', () => {
    const figures = figuresOf(everySeconds(300, Array(13).fill(20)), 300);
    for (const key of KEYS.filter((k) => k !== 'highest5MinMmHg')) expect(figures[key]).not.toBeNull();
    expect(figures.highest5MinMmHg).toBeNull();
    expect(figures.highest5MinMmHgReason).toBe(
      'not resolvable at this sampling: every 300 s, needs 100 s or finer',
    );
  });
  it('are all null at more than 5 min between samples', () => {
    const figures = figuresOf(everySeconds(301, Array(13).fill(20)), 301);
    for (const key of KEYS) {
      expect(figures[key]).toBeNull();
      expect(figures[`${key}Reason`]).toBe(
        'not resolvable at this sampling: every 301 s, needs 300 s or finer',
      );
    }
  });
  it('hold 5-min means up to 100 s between samples and not beyond', () => {
    expect(figuresOf(everySeconds(100, Array(37).fill(20)), 100).highest5MinMmHg).toBeCloseTo(20, 9);
    expect(figuresOf(everySeconds(101, Array(37).fill(20)), 101).highest5MinMmHg).toBeNull();
  });
  it('hold no 5-min mean where no window of 5 min is known for half', () => {
    const figures = figuresOf(everySeconds(1, Array(121).fill(20)), 1);
    expect(figures.meanMmHg).toBe(20);
    expect(figures.highest5MinMmHg).toBeNull();
    expect(figures.highest5MinMmHgReason).toBe('no 5-min window is known for at least half');
  });
});
