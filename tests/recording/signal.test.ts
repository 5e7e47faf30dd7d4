import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { totalMs } from '../../src/recording/interval.js';
import { emptySignal, knownIntervals, withoutIntervals } from '../../src/recording/signal.js';
import { holds, intervals, signals } from '../support/properties.js';
import { everySeconds, T0, through } from '../support/signals.js';

const seconds = (from: number, to: number) => ({ start: T0 + from * 1000, end: T0 + to * 1000 });

describe('a signal without marked samples', () => {
  it('is unknown over every piece that touches a marked sample', () => {
    const signal = everySeconds(1, [1, 2, 3, 4, 5, 6]);
    expect([...withoutIntervals(signal, [seconds(2, 3)]).known]).toEqual([1, 0, 0, 0, 1, 0]);
  });
  it('is never drawn over the hole that one removed sample leaves', () => {
    const signal = everySeconds(1, [10, 10, 90, 10, 10]);
    expect(knownIntervals(withoutIntervals(signal, [seconds(2, 2)]))).toEqual([seconds(0, 1), seconds(3, 4)]);
  });
  it('stays known between two samples where a mark lies between them and touches none', () => {
    const signal = everySeconds(10, [1, 2, 3]);
    expect([...withoutIntervals(signal, [seconds(11, 19)]).known]).toEqual([1, 1, 0]);
  });
  it('keeps its own arrays as they were', () => {
    const signal = everySeconds(1, [1, 2, 3]);
    const less = withoutIntervals(signal, [seconds(0, 9)]);
    expect([...signal.known]).toEqual([1, 1, 0]);
    expect([...less.known]).toEqual([0, 0, 0]);
    expect(less.values).toBe(signal.values);
  });
  it('is, piece by piece, what touching no marked sample means', () => {
    holds(
      fc.property(signals(), fc.array(intervals(300_000), { maxLength: 6 }), (signal, marks) => {
        const isMarked = (i: number): boolean =>
          marks.some(({ start, end }) => start <= signal.times[i] && signal.times[i] <= end);
        const expected = [...signal.known].map((isKnown, i) =>
          isKnown && !isMarked(i) && !isMarked(i + 1) ? 1 : 0,
        );
        expect([...withoutIntervals(signal, marks).known]).toEqual(expected);
      }),
    );
  });
});

describe('known intervals', () => {
  it('are the maximal known stretches, and a lone sample is none', () => {
    const lost = Array(4).fill(Number.NaN);
    const signal = everySeconds(1, [1, 1, 1, ...lost, 1, ...lost, 1, 1]);
    expect(knownIntervals(signal)).toEqual([seconds(0, 2), seconds(12, 13)]);
  });
  it('add up to the known spacings', () => {
    holds(
      fc.property(signals(), (signal) => {
        const known = [...signal.known].reduce(
          (sum, isKnown, i) => sum + (isKnown ? signal.times[i + 1] - signal.times[i] : 0),
          0,
        );
        const stretches = knownIntervals(signal);
        expect(totalMs(stretches)).toBe(known);
        expect(stretches.every(({ start }, i) => i === 0 || stretches[i - 1].end < start)).toBe(true);
      }),
    );
  });
  it('of the empty signal and of one sample are none', () => {
    expect(knownIntervals(emptySignal)).toEqual([]);
    expect(knownIntervals(through([[0, 5]]))).toEqual([]);
  });
});
