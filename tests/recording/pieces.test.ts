import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Interval } from '../../src/recording/interval.js';
import { interpolate, piecesWithin, wholeOf } from '../../src/recording/pieces.js';
import { emptySignal, type Signal } from '../../src/recording/signal.js';
import { holds, intervals, signals } from '../support/properties.js';
import { T0, through } from '../support/signals.js';

type Piece = [t0: number, x0: number, t1: number, x1: number];

/** All known pieces of the window in time order: those that lie inside as wholes, and what its edges cut off others. */
function piecesOf(signal: Signal, window: Interval): Piece[] {
  const { times, values, known } = signal;
  const { first, last, cut } = piecesWithin(signal, window);
  const pieces = cut.map(({ t0, x0, t1, x1 }): Piece => [t0, x0, t1, x1]);
  for (let i = first; i < last; i++)
    if (known[i]) pieces.push([times[i], values[i], times[i + 1], values[i + 1]]);
  return pieces.sort(([a], [b]) => a - b);
}
const at = (seconds: number): number => T0 + seconds * 1000;

describe('the pieces of a signal', () => {
  const ramp = through([
    [0, 10],
    [10, 20],
    [20, 0],
  ]);
  it('come whole where the window holds them', () => {
    expect(piecesOf(ramp, wholeOf(ramp))).toEqual([
      [at(0), 10, at(10), 20],
      [at(10), 20, at(20), 0],
    ]);
  });
  it('are cut on their lines where the window ends inside', () => {
    expect(piecesOf(ramp, { start: at(4), end: at(15) })).toEqual([
      [at(4), 14, at(10), 20],
      [at(10), 20, at(15), 10],
    ]);
  });
  it('are cut at both ends where the window lies inside one', () => {
    expect(piecesOf(ramp, { start: at(2), end: at(3) })).toEqual([[at(2), 12, at(3), 13]]);
  });
  it('are none in a window of no length, beside the signal, or of the empty signal', () => {
    expect(piecesOf(ramp, { start: at(5), end: at(5) })).toEqual([]);
    expect(piecesOf(ramp, { start: at(20), end: at(30) })).toEqual([]);
    expect(piecesOf(ramp, { start: at(-5), end: at(0) })).toEqual([]);
    expect(piecesOf(emptySignal, wholeOf(emptySignal))).toEqual([]);
  });
  it('leave out what is unknown, also where the window begins inside it', () => {
    const holed = { ...ramp, known: Uint8Array.of(0, 1, 0) };
    expect(piecesOf(holed, { start: at(5), end: at(20) })).toEqual([[at(10), 20, at(20), 0]]);
  });
  it('follow each other in time, inside the window, and add up to what is known there', () => {
    holds(
      fc.property(signals(), intervals(), (signal, window) => {
        const { times, known } = signal;
        const pieces = piecesOf(signal, window);
        let expected = 0;
        for (let i = 0; i + 1 < times.length; i++) {
          const overlap = Math.min(times[i + 1], window.end) - Math.max(times[i], window.start);
          if (known[i]) expected += Math.max(0, overlap);
        }
        expect(pieces.reduce((sum, [t0, , t1]) => sum + t1 - t0, 0)).toBe(expected);
        pieces.forEach(([t0, , t1], i) => {
          expect(t0).toBeLessThan(t1);
          expect(t0).toBeGreaterThanOrEqual(i === 0 ? window.start : pieces[i - 1][2]);
          expect(t1).toBeLessThanOrEqual(window.end);
        });
      }),
    );
  });
});

describe('a signal cut to a window', () => {
  it('has just the pieces that the window holds, cut on their lines at its ends', () => {
    holds(
      fc.property(signals(), intervals(), (signal, window) => {
        const { times, values, known } = signal;
        const expected: Piece[] = [];
        for (let i = 0; i + 1 < times.length; i++) {
          const [t0, t1] = [Math.max(times[i], window.start), Math.min(times[i + 1], window.end)];
          if (!known[i] || t0 >= t1) continue;
          const on = (t: number): number => interpolate(t, times[i], values[i], times[i + 1], values[i + 1]);
          expected.push([t0, on(t0), t1, on(t1)]);
        }
        const pieces = piecesOf(signal, window);
        expect(pieces.map(([t0, , t1]) => [t0, t1])).toEqual(expected.map(([t0, , t1]) => [t0, t1]));
        // A whole piece has its samples and no interpolation, so the two agree but for the last bits.
        pieces.forEach(([, x0, , x1], i) => {
          expect(x0).toBeCloseTo(expected[i][1], 9);
          expect(x1).toBeCloseTo(expected[i][3], 9);
        });
      }),
    );
  });
  it('is the signal itself where the window holds all of it', () => {
    const signal = through([
      [0, 10],
      [10, 20],
    ]);
    expect(piecesWithin(signal, { start: at(-1), end: at(11) })).toEqual({ first: 0, last: 1, cut: [] });
    expect(piecesWithin(emptySignal, { start: at(0), end: at(1) })).toEqual({ first: 0, last: -1, cut: [] });
  });
  it('is empty where the window lies beside it, or is an instant', () => {
    const signal = through([
      [0, 10],
      [10, 20],
    ]);
    expect(piecesOf(signal, { start: at(20), end: at(30) })).toEqual([]);
    expect(piecesOf(signal, { start: at(5), end: at(5) })).toEqual([]);
  });
});
