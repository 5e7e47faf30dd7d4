import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { difference } from '../../../src/recording/difference.js';
import { type BurdenFeatures, burdenFeatures } from '../../../src/summarize/study/burden-features.js';
import { FEATURE_LEVELS } from '../../../src/summarize/study/feature-levels.js';
import { intervals, signals } from '../../support/properties.js';
import { runPython } from '../../support/python.js';
import { T0 } from '../../support/signals.js';
import { OVER_22 } from '../../support/targets.js';

// Outside source: numpy. The known runs are put on a grid that holds the samples, the ends of the window and every crossing
// of a level, with numpy.interp in between; hours are the lengths of the steps whose middle lies past the level, doses
// and means numpy's trapezoids: exact but for rounding (1e-9).
const NUMPY_BURDEN = `
import json, sys
import numpy as np

def burden(t, x, known, window, levels, sign):
    t, x = np.array(t, dtype=float), np.array(x, dtype=float)
    out = dict(hours=0.0, area=0.0, past=[0.0] * len(levels), dose=[0.0] * len(levels))
    edges = np.flatnonzero(np.diff(np.concatenate([[0], np.array(known), [0]])))
    for first, last in zip(edges[::2], edges[1::2]):
        rt, rx = t[first:last + 1], x[first:last + 1]
        lo, hi = max(window[0], rt[0]), min(window[1], rt[-1])
        if lo >= hi:
            continue
        grid = [np.clip(rt, lo, hi)]
        for level in levels:
            d = rx - level
            i = np.nonzero(d[:-1] * d[1:] < 0)[0]
            grid.append(np.clip(rt[i] + (rt[i + 1] - rt[i]) * d[i] / (d[i] - d[i + 1]), lo, hi))
        grid = np.unique(np.concatenate(grid))
        y = np.interp(grid, rt, rx)
        step = np.diff(grid) / 3.6e6
        middle = (y[1:] + y[:-1]) / 2
        out['hours'] += step.sum()
        out['area'] += (middle * step).sum()
        for k, level in enumerate(levels):
            beyond = sign * (middle - level)
            out['past'][k] += step[beyond > 1e-9].sum()
            out['dose'][k] += (np.maximum(0, beyond) * step).sum()
    return out

print(json.dumps([{name: burden(**one) for name, one in case.items()} for case in json.load(sys.stdin)]))
`;

interface Burden {
  readonly hours: number;
  readonly area: number;
  readonly past: readonly number[];
  readonly dose: readonly number[];
}

const { icpAboveMmHg, cppBelowMmHg } = FEATURE_LEVELS;
const CASES = fc
  .sample(fc.tuple(signals(), signals(), intervals()), { seed: 29, numRuns: 60 })
  // Arterial pressure lies where CPP crosses its levels.
  .map(([icp, other, window]) => {
    const map = { ...other, values: other.values.map((x) => x + 60) };
    return { icp, cpp: difference(map, icp), map, window };
  });

describe('features of burden on random signals, against numpy', () => {
  const found = CASES.map(({ icp, map, cpp, window }): BurdenFeatures => {
    const study = {
      signals: { icp, map, cpp },
      rawIcp: icp,
      marks: [],
      intervalMs: { icp: 60_000, map: 60_000 },
      whyNoPrx: null,
      hasOptimal: false,
      therapyIntensity: null,
    };
    return burdenFeatures(study, [window], OVER_22)[0];
  });
  const inNumpy = runPython<{ icp: Burden; cpp: Burden }[]>(
    NUMPY_BURDEN,
    CASES.map(({ icp, cpp, window }) => {
      const of = ({ times, values, known }: typeof icp, levels: readonly number[], sign: number) => ({
        t: Array.from(times, (t) => t - T0),
        x: Array.from(values, (x) => (Number.isNaN(x) ? 0 : x)),
        known: Array.from(known),
        window: [window.start - T0, window.end - T0],
        levels,
        sign,
      });
      return { icp: of(icp, icpAboveMmHg, 1), cpp: of(cpp, cppBelowMmHg, -1) };
    }),
  );

  it('has cases to compare', () => {
    expect(inNumpy.filter(({ icp }) => icp.past[3] > 0).length).toBeGreaterThan(30);
    expect(inNumpy.filter(({ cpp }) => cpp.past[0] > 0).length).toBeGreaterThan(20);
  });
  it('hours, shares, doses and means agree', () => {
    found.forEach((of, i) => {
      for (const [name, side, levels] of [
        ['icp', 'Above', icpAboveMmHg],
        ['cpp', 'Below', cppBelowMmHg],
      ] as const) {
        const { hours, area, past, dose } = inNumpy[i][name];
        expect(of[`${name}MonitoredHours`]).toBeCloseTo(hours, 9);
        if (hours === 0) {
          expect(of[`${name}MeanMmHg`]).toHaveProperty('reason');
          continue;
        }
        expect(of[`${name}MeanMmHg`]).toBeCloseTo(area / hours, 7);
        levels.forEach((level, k) => {
          expect(of[`${name}Hours${side}${level}`]).toBeCloseTo(past[k], 9);
          expect(of[`${name}Share${side}${level}`]).toBeCloseTo(past[k] / hours, 7);
          expect(of[`${name}Dose${side}${level}MmHgHours`]).toBeCloseTo(dose[k], 9);
          expect(of[`${name}DosePerHour${side}${level}MmHg`]).toBeCloseTo(dose[k] / hours, 7);
        });
      }
    });
  });
});
