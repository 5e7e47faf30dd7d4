import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Interval } from '../../src/recording/interval.js';
import type { Signal } from '../../src/recording/signal.js';
import { doseAboveMmHgHours, doseBelowMmHgHours } from '../../src/summarize/dose.js';
import { extremes, timeWeightedMean } from '../../src/summarize/mean.js';
import { timeWeightedPercentile } from '../../src/summarize/percentile.js';
import { hoursAbove, hoursBelow, hoursInBand, monitoredHours } from '../../src/summarize/time.js';
import { windowMeans } from '../../src/summarize/window-means.js';
import { intervals, signals } from '../support/properties.js';
import { runPython } from '../support/python.js';
import { T0 } from '../support/signals.js';

// Outside source: numpy. The known runs are put on a grid that holds the samples, the ends of the window and every
// crossing of the thresholds, with numpy.interp in between; doses and means are its trapezoids, times the lengths of
// the steps whose middle fulfils the condition: exact but for rounding (1e-9). Percentiles are numpy.quantile over
// 400,000 evenly spaced instants, good to a few steps of a piece, here 0.02 mmHg where the density allows it.
const NUMPY_MEASURES = `
import json, sys
import numpy as np

def runs(times, values, known):
    start = None
    for i in range(len(times)):
        if known[i] and start is None:
            start = i
        if not known[i] and start is not None:
            yield times[start:i + 1], values[start:i + 1]
            start = None

def measures(case):
    t, x, known = (np.array(case[k], dtype=float) for k in ('times', 'values', 'known'))
    a, b = case['window']
    levels = case['levels']
    u = levels[0]
    out = dict(monitored=0.0, above=0.0, below=0.0, band=0.0, doseAbove=0.0, doseBelow=0.0)
    area = 0.0
    pieces = []
    for rt, rx in runs(t, x, known):
        lo, hi = max(a, rt[0]), min(b, rt[-1])
        if lo >= hi:
            continue
        grid = [np.clip(rt, lo, hi)]
        for level in levels:
            d = rx - level
            i = np.nonzero(d[:-1] * d[1:] < 0)[0]
            grid.append(np.clip(rt[i] + (rt[i + 1] - rt[i]) * d[i] / (d[i] - d[i + 1]), lo, hi))
        grid = np.unique(np.concatenate(grid))
        y = np.interp(grid, rt, rx)
        step = np.diff(grid)
        middle = (y[1:] + y[:-1]) / 2
        flat = np.abs(y[1:] - y[:-1]) < 1e-9
        out['monitored'] += step.sum()
        out['above'] += step[middle > u + np.where(flat, 1e-9, 0)].sum()
        out['below'] += step[middle < u - np.where(flat, 1e-9, 0)].sum()
        e = np.where(flat, 1e-9, 0)
        out['band'] += step[(middle >= levels[1] - e) & (middle <= levels[2] + e)].sum()
        out['doseAbove'] += (np.maximum(0, middle - u) * step).sum()
        out['doseBelow'] += (np.maximum(0, u - middle) * step).sum()
        area += np.trapz(y, grid)
        pieces.append((rt, rx, lo, hi))
    for key in out:
        out[key] /= 3.6e6
    total = sum(hi - lo for _, _, lo, hi in pieces)
    if total == 0:
        return out
    out['mean'] = area / total
    out['highest'] = max(np.interp(np.clip(rt, lo, hi), rt, rx).max() for rt, rx, lo, hi in pieces)
    out['lowest'] = min(np.interp(np.clip(rt, lo, hi), rt, rx).min() for rt, rx, lo, hi in pieces)
    n = 400000
    where = (np.arange(n) + 0.5) * total / n
    dense = []
    begin = 0.0
    for rt, rx, lo, hi in pieces:
        inside = where[(where >= begin) & (where < begin + hi - lo)]
        dense.append(np.interp(lo + inside - begin, rt, rx))
        begin += hi - lo
    dense = np.sort(np.concatenate(dense))
    # The value at a share may jump where two levels are held; both neighbours bound it then.
    out['quantiles'] = [[dense[max(0, int(p * n) - 8)], dense[min(n - 1, int(p * n) + 8)]] for p in case['shares']]
    return out

print(json.dumps([measures(case) for case in json.load(sys.stdin)]))
`;

interface NumpyMeasures {
  readonly monitored: number;
  readonly above: number;
  readonly below: number;
  readonly band: number;
  readonly doseAbove: number;
  readonly doseBelow: number;
  readonly mean?: number;
  readonly highest?: number;
  readonly lowest?: number;
  readonly quantiles?: [number, number][];
}

const LEVELS = [22, 5, 15] as const;
const SHARES = [0.05, 0.25, 0.5, 0.9];
const CASES = fc.sample(fc.tuple(signals(), intervals()), { seed: 23, numRuns: 60 });

/** Times as milliseconds after T0: small numbers, so that python's rounding is far below 1e-9. */
const asInput = ([signal, window]: [Signal, Interval]) => ({
  times: [...signal.times].map((t) => t - T0),
  values: [...signal.values],
  known: [...signal.known],
  window: [window.start - T0, window.end - T0],
  levels: LEVELS,
  shares: SHARES,
});

describe('every measure on random signals, against numpy', () => {
  const expected = runPython<NumpyMeasures[]>(NUMPY_MEASURES, CASES.map(asInput));
  const monitored = expected.filter(({ mean }) => mean !== undefined).length;
  const each = (check: (signal: Signal, window: Interval, numpy: NumpyMeasures) => void): void => {
    CASES.forEach(([signal, window], i) => {
      check(signal, window, expected[i]);
    });
  };

  it('has cases to compare', () => {
    expect(monitored).toBeGreaterThan(40);
    expect(expected.filter(({ above }) => above > 0).length).toBeGreaterThan(40);
  });
  it('monitored time and the times above, below and within agree', () => {
    each((signal, window, numpy) => {
      expect(monitoredHours(signal, window)).toBeCloseTo(numpy.monitored, 9);
      expect(hoursAbove(signal, window, LEVELS[0])).toBeCloseTo(numpy.above, 9);
      expect(hoursBelow(signal, window, LEVELS[0])).toBeCloseTo(numpy.below, 9);
      const band = { from: LEVELS[1], to: LEVELS[2], closed: true };
      expect(hoursInBand(signal, window, band)).toBeCloseTo(numpy.band, 9);
    });
  });
  it('doses above and below agree', () => {
    each((signal, window, numpy) => {
      expect(doseAboveMmHgHours(signal, window, LEVELS[0])).toBeCloseTo(numpy.doseAbove, 9);
      expect(doseBelowMmHgHours(signal, window, LEVELS[0])).toBeCloseTo(numpy.doseBelow, 9);
    });
  });
  it('means and extremes agree', () => {
    each((signal, window, numpy) => {
      if (numpy.mean === undefined) return;
      expect(timeWeightedMean(signal, window)).toBeCloseTo(numpy.mean, 8);
      expect(extremes(signal, window).highest).toBeCloseTo(numpy.highest!, 8);
      expect(extremes(signal, window).lowest).toBeCloseTo(numpy.lowest!, 8);
    });
  });
  it('percentiles lie between their neighbours in a dense sampling', () => {
    each((signal, window, { quantiles }) => {
      quantiles?.forEach(([low, high], k) => {
        const value = timeWeightedPercentile(signal, window, SHARES[k]);
        expect(value).toBeGreaterThanOrEqual(low - 1e-9);
        expect(value).toBeLessThanOrEqual(high + 1e-9);
      });
    });
  });
  it('5-min means are the means of their windows', () => {
    const means = CASES.flatMap(([signal, window]) =>
      windowMeans(signal, window).map(({ start, mean }) => ({
        input: asInput([signal, { start, end: start + 300_000 }]),
        mean,
      })),
    );
    expect(means.length).toBeGreaterThan(100);
    const inNumpy = runPython<NumpyMeasures[]>(
      NUMPY_MEASURES.replace('n = 400000', 'n = 100'),
      means.map(({ input }) => input),
    );
    means.forEach(({ mean }, i) => {
      expect(mean).toBeCloseTo(inNumpy[i].mean!, 8);
      expect(inNumpy[i].monitored).toBeGreaterThanOrEqual(150 / 3600 - 1e-12);
    });
  });
});
