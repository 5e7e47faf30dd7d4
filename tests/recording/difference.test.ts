import { describe, expect, it } from 'vitest';
import { difference } from '../../src/recording/difference.js';
import { emptySignal, knownIntervals, type Signal, withoutIntervals } from '../../src/recording/signal.js';
import { runPython } from '../support/python.js';
import { everySeconds, T0, through } from '../support/signals.js';

const at = (seconds: number): number => T0 + seconds * 1000;

// Outside source: numpy.interp on the union of both grids, run by run of known pieces; the same two products and
// one sum in another order, so compared to 1e-9 mmHg.
const NUMPY_DIFFERENCE = `
import json, sys
import numpy as np

def runs(signal):
    t, x, known = (np.array(signal[k], dtype=float) for k in ('times', 'values', 'known'))
    start = None
    for i in range(len(t)):
        if known[i] and start is None:
            start = i
        if not known[i] and start is not None:
            yield t[start:i + 1], x[start:i + 1]
            start = None

def both(a, b):
    grid = np.union1d(a['times'], b['times'])
    middles = (grid[1:] + grid[:-1]) / 2
    out = []
    for points in (grid, middles):
        total = np.zeros(len(points))
        known = []
        for sign, signal in ((1, a), (-1, b)):
            value = np.full(len(points), np.nan)
            for t, x in runs(signal):
                inside = (points >= t[0]) & (points <= t[-1])
                value[inside] = np.interp(points[inside], t, x)
            total += sign * value
        out.append(total)
    return {'grid': grid.tolist(), 'at': [None if np.isnan(v) else v for v in out[0]],
            'known': [0 if np.isnan(v) else 1 for v in out[1]] + [0]}

print(json.dumps([both(a, b) for a, b in json.load(sys.stdin)]))
`;

interface NumpyDifference {
  readonly grid: number[];
  readonly at: (number | null)[];
  readonly known: number[];
}

/** A wandering signal with holes, a sample every so many milliseconds. */
function wandering(stepMs: number, count: number, phase: number): Signal {
  const times = Float64Array.from({ length: count }, (_, i) => T0 + i * stepMs);
  const values = Float64Array.from({ length: count }, (_, i) => 40 + 30 * Math.sin(phase + i / 7) + (i % 3));
  const known = Uint8Array.from({ length: count }, (_, i) => ((i + Math.round(phase)) % 11 === 0 ? 0 : 1));
  known[count - 1] = 0;
  return { times, values, known };
}
const plain = ({ times, values, known }: Signal) => ({
  times: [...times],
  values: [...values],
  known: [...known],
});

describe('the difference of two signals', () => {
  it('is that of numpy on the union of both grids, holes and different rates included', () => {
    const pairs: [Signal, Signal][] = [
      [wandering(1000, 200, 0), wandering(1000, 200, 2)],
      [wandering(1000, 200, 1), wandering(5000, 60, 3)],
      [wandering(60_000, 20, 4), wandering(1000, 900, 5)],
      [wandering(700, 300, 2), wandering(1100, 150, 6)],
    ];
    const expected = runPython<NumpyDifference[]>(
      NUMPY_DIFFERENCE,
      pairs.map(([a, b]) => [plain(a), plain(b)]),
    );
    pairs.forEach(([a, b], k) => {
      const result = difference(a, b);
      expect([...result.times]).toEqual(expected[k].grid);
      expect([...result.known]).toEqual(expected[k].known);
      expect(expected[k].known.filter(Boolean).length).toBeGreaterThan(20);
      expected[k].at.forEach((value, i) => {
        if (value !== null) expect(result.values[i]).toBeCloseTo(value, 9);
      });
    });
  });

  it('is linear between the samples of both', () => {
    const map = everySeconds(60, [80, 90]);
    const icp = everySeconds(1, Array(61).fill(12));
    const cpp = difference(map, icp);
    expect(cpp.times.length).toBe(61);
    expect(cpp.values[30]).toBe(73);
    expect(knownIntervals(cpp)).toEqual([{ start: at(0), end: at(60) }]);
  });

  it('is unknown where either is, and known again at once where both are', () => {
    const map = everySeconds(1, Array(11).fill(80));
    const icp = everySeconds(1, Array(11).fill(10));
    const holed = withoutIntervals(icp, [{ start: at(4), end: at(5) }]);
    expect(knownIntervals(difference(map, holed))).toEqual([
      { start: at(0), end: at(3) },
      { start: at(6), end: at(10) },
    ]);
  });

  it('covers only the time in which both were recorded', () => {
    const early = through([
      [0, 80],
      [10, 80],
    ]);
    const late = through([
      [5, 10],
      [20, 10],
    ]);
    const cpp = difference(early, late);
    expect(knownIntervals(cpp)).toEqual([{ start: at(5), end: at(10) }]);
    expect(cpp.values[1]).toBe(70);
  });

  it('is known nowhere without one of them', () => {
    const icp = everySeconds(1, [10, 11, 12]);
    expect(knownIntervals(difference(emptySignal, icp))).toEqual([]);
    expect(knownIntervals(difference(icp, emptySignal))).toEqual([]);
  });
});
