import { describe, expect, it } from 'vitest';
import { withoutIntervals } from '../../src/recording/signal.js';
import { longestUnknown } from '../../src/summarize/longest-unknown.js';
import { everySeconds, T0 } from '../support/signals.js';

const signal = everySeconds(1, Array<number>(101).fill(12));
const at = (second: number): number => T0 + second * 1000;
const without = (...gaps: [number, number][]) =>
  withoutIntervals(
    signal,
    gaps.map(([start, end]) => ({ start: at(start), end: at(end) })),
  );

describe('the longest unknown stretch', () => {
  it('is none where the signal is known throughout', () => {
    expect(longestUnknown(signal, { start: at(0), end: at(100) })).toBeNull();
  });

  it('reaches from the last known sample to the next, and is the first of equals', () => {
    const period = { start: at(0), end: at(100) };
    expect(longestUnknown(without([10, 12], [40, 49], [70, 79]), period)).toEqual({
      start: at(39),
      end: at(50),
    });
  });

  it('counts what lies before the first sample and behind the last, inside the period', () => {
    expect(longestUnknown(signal, { start: at(-50), end: at(120) })).toEqual({ start: at(-50), end: at(0) });
    expect(longestUnknown(signal, { start: at(50), end: at(120) })).toEqual({ start: at(100), end: at(120) });
    expect(longestUnknown(without([0, 100]), { start: at(10), end: at(20) })).toEqual({
      start: at(10),
      end: at(20),
    });
  });
});
