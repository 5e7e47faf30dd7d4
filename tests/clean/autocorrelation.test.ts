import { describe, expect, it } from 'vitest';
import { autocorrelation } from '../../src/clean/autocorrelation.js';
import { runPython } from '../support/python.js';

// Outside source: numpy.corrcoef of the series and itself shifted, over the pairs in which both are finite; the same
// sums in another order, so compared to 1e-12.
const NUMPY_AUTOCORRELATION = `
import json, sys
import numpy as np
out = []
for series, lag in json.load(sys.stdin):
    x = np.array([np.nan if v is None else v for v in series], dtype=float)
    a, b = x[:len(x) - lag], x[lag:]
    both = np.isfinite(a) & np.isfinite(b)
    out.append(float(np.corrcoef(a[both], b[both])[0, 1]))
print(json.dumps(out))
`;

describe('autocorrelation', () => {
  const series = [
    Array.from({ length: 120 }, (_, i) => 15 + 8 * Math.sin(i / 2) + ((i * 7919) % 11) / 3),
    Array.from({ length: 120 }, (_, i) => (i % 7 === 3 ? Number.NaN : 15 + i / 10 + ((i * 104729) % 13))),
    Array.from({ length: 40 }, (_, i) => ((i * 31) % 17) - 8),
  ];
  it('is that of numpy at every lag, with missing values too', () => {
    const cases = series.flatMap((list) => [1, 3, 6, 12, 24].map((lag) => [list, lag] as const));
    const expected = runPython<number[]>(
      NUMPY_AUTOCORRELATION,
      cases.map(([list, lag]) => [list.map((x) => (Number.isNaN(x) ? null : x)), lag]),
    );
    cases.forEach(([list, lag], i) => {
      expect(autocorrelation(list, lag)).toBeCloseTo(expected[i], 12);
    });
  });
  it('is 1 at the period of a wave and -1 at half of it', () => {
    const wave = Array.from({ length: 120 }, (_, i) => Math.sin((2 * Math.PI * i) / 12));
    expect(autocorrelation(wave, 12)).toBeCloseTo(1, 9);
    expect(autocorrelation(wave, 6)).toBeCloseTo(-1, 9);
  });
  it('is not a number where it cannot be told', () => {
    expect(autocorrelation([1, 2, 3, 4], 2)).toBeNaN();
    expect(autocorrelation([5, 5, 5, 5, 5], 1)).toBeNaN();
    expect(autocorrelation([1, Number.NaN, 2, Number.NaN, 3, Number.NaN], 1)).toBeNaN();
    expect(autocorrelation([], 1)).toBeNaN();
  });
});
