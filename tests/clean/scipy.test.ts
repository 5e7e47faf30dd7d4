import { describe, expect, it } from 'vitest';
import { autocorrelation } from '../../src/clean/autocorrelation.js';
import { medianAbsoluteDeviation } from '../../src/clean/robust-spread.js';
import { rollingMedian } from '../../src/recording/rolling-median.js';
import { runPython } from '../support/python.js';

// Outside source: scipy (Debian's), a program that this project did not make.
const RUNNING_MEDIAN = `
import json, sys
import numpy as np
from scipy.ndimage import median_filter
out = []
for series, size in json.load(sys.stdin):
    # Ends apart: there the filter mirrors what this project leaves out.
    half = size // 2
    out.append(median_filter(np.array(series), size=size)[half:len(series) - half].tolist())
print(json.dumps(out))
`;
const PEARSON_OF_SHIFTED = `
import json, sys
from scipy.stats import pearsonr
print(json.dumps([float(pearsonr(series[:-lag], series[lag:])[0]) for series, lag in json.load(sys.stdin)]))
`;
const MAD = `
import json, sys
from scipy.stats import median_abs_deviation
print(json.dumps([float(median_abs_deviation(values)) for values in json.load(sys.stdin)]))
`;

/** Numbers without a pattern, the same every time. */
const scattered = (n: number, seed: number): number[] =>
  Array.from({ length: n }, (_, i) => (((i + seed) * 7919 + ((i * i) % 104729)) % 1009) / 10);

describe('against scipy', () => {
  it('the rolling median is that of scipy.ndimage.median_filter, exactly', () => {
    const cases = [
      [scattered(400, 1), 5],
      [scattered(400, 2), 31],
      [scattered(900, 3).map(Math.round), 121],
      [Array(60).fill(12), 9],
    ] as [number[], number][];
    const expected = runPython<number[][]>(RUNNING_MEDIAN, cases);
    cases.forEach(([series, size], k) => {
      const half = (size - 1) / 2;
      const places = Array.from({ length: series.length - 2 * half }, (_, i) => i);
      const medians = rollingMedian(
        Float64Array.from(series),
        Uint32Array.from(places),
        Uint32Array.from(places, (i) => i + size),
      );
      expect([...medians]).toEqual(expected[k]);
    });
  });

  it('autocorrelation is the correlation of scipy.stats.pearsonr with the series shifted, to 12 decimals', () => {
    const wave = Array.from({ length: 300 }, (_, i) => 14 + 6 * Math.sin(i / 5) + scattered(300, 4)[i] / 40);
    const cases = [wave, scattered(300, 5)].flatMap((series) =>
      [1, 7, 16, 31, 90].map((lag) => [series, lag] as const),
    );
    const expected = runPython<number[]>(PEARSON_OF_SHIFTED, cases);
    cases.forEach(([series, lag], k) => {
      expect(autocorrelation([...series], lag)).toBeCloseTo(expected[k], 12);
    });
  });

  it('the median absolute deviation is that of scipy.stats.median_abs_deviation, to 12 decimals', () => {
    const lists = [
      scattered(101, 6),
      scattered(100, 7),
      scattered(50, 8).map((x) => -x),
      Array(9).fill(3.5),
      [1, 1, 1, 400],
      [7],
    ];
    const expected = runPython<number[]>(MAD, lists);
    lists.forEach((values, k) => {
      expect(medianAbsoluteDeviation(Float64Array.from(values))).toBeCloseTo(expected[k], 12);
    });
    expect(medianAbsoluteDeviation(new Float64Array(0))).toBeNaN();
  });
});
