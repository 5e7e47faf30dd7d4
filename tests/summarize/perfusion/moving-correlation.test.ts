import { describe, expect, it } from 'vitest';
import type { BinGrid } from '../../../src/summarize/perfusion/bin-grid.js';
import { movingCorrelation, movingMean } from '../../../src/summarize/perfusion/moving-correlation.js';
import { listOf, noise, wandering } from '../../support/noise.js';
import { runPython } from '../../support/python.js';
import { runR } from '../../support/r.js';

const withGaps = (values: Float64Array, seed: number): Float64Array => {
  const next = noise(seed);
  let gap = 0;
  return values.map((x) => {
    if (gap === 0 && next() > 2) gap = 1 + Math.floor(Math.abs(next()) * 12);
    if (gap === 0) return x;
    gap--;
    return Number.NaN;
  });
};

/** A case whose values lie far from 0 and hardly vary, where sums of squares would lose their digits. */
function series(seed: number, count: number, centre: number, spread: number): [Float64Array, Float64Array] {
  const [a, b] = [wandering(seed, 0.9), wandering(seed + 1, 0.95)];
  const x = listOf(count, () => centre + spread * a());
  const y = listOf(count, (i) => 3 * centre + spread * ((0.5 * (x[i] - centre)) / spread + b()));
  return [withGaps(x, seed + 2), withGaps(y, seed + 3)];
}

const nulls = (values: Float64Array): (number | null)[] =>
  [...values].map((x) => (Number.isNaN(x) ? null : x));

const CASES = [
  { name: 'PRx: 30 bins of 10 s', binMs: 10_000, pairs: 30, seed: 11, count: 3000, centre: 14, spread: 2 },
  { name: 'minute data: 20 bins', binMs: 60_000, pairs: 20, seed: 21, count: 700, centre: 14, spread: 2 },
  { name: 'far from 0', binMs: 10_000, pairs: 40, seed: 31, count: 1500, centre: 1000, spread: 0.01 },
] as const;

describe('a correlation over a moving window', () => {
  // Outside source: numpy.corrcoef over the pairs of each window of which neither is missing, to 1e-9.
  const NUMPY = `
import json, sys
import numpy as np
q = json.load(sys.stdin)
x = np.array(q['x'], dtype=float); y = np.array(q['y'], dtype=float)
out = []
for end in q['ends']:
    a, b = x[max(0, end - q['pairs']):end], y[max(0, end - q['pairs']):end]
    ok = ~np.isnan(a) & ~np.isnan(b)
    out.append(float(np.corrcoef(a[ok], b[ok])[0, 1]) if ok.sum() >= q['least'] else None)
print(json.dumps(out))
`;
  for (const { name, binMs, pairs, seed, count, centre, spread } of CASES) {
    it(`is that of numpy, ${name}`, () => {
      const [x, y] = series(seed, count, centre, spread);
      const perMinute = 60_000 / binMs;
      // Begins within a minute.
      const grid: BinGrid = { binMs, firstBin: 1_000_003, count };
      const { firstEnd, values } = movingCorrelation(x, y, grid, { pairs, leastPairs: pairs / 2 });
      const first = firstEnd / binMs - grid.firstBin;
      const ends = Array.from(values, (_, i) => first + i * perMinute);
      expect(first).toBeGreaterThan(0);
      expect(first).toBeLessThanOrEqual(perMinute);
      expect(ends.at(-1)).toBeGreaterThan(count - perMinute);
      const theirs = runPython<(number | null)[]>(NUMPY, {
        x: nulls(x),
        y: nulls(y),
        ends,
        pairs,
        least: pairs / 2,
      });
      expect(theirs.filter((r) => r !== null).length).toBeGreaterThan(values.length / 2);
      expect(theirs.some((r) => r === null)).toBe(true);
      theirs.forEach((r, i) => {
        if (r === null) expect(values[i]).toBeNaN();
        else expect(Math.abs(values[i] - r)).toBeLessThan(1e-9);
      });
    });
  }

  // Outside source: R, cor(use = "complete.obs"), to 1e-9.
  it('is that of R', () => {
    const [x, y] = series(41, 600, 14, 2);
    const grid: BinGrid = { binMs: 10_000, firstBin: 600_000, count: 600 };
    const { values } = movingCorrelation(x, y, grid, { pairs: 30, leastPairs: 15 });
    const theirs = runR<(number | null)[]>(
      `x <- input$x; y <- input$y
       sapply(seq(6, length(x), 6), function(end) {
         w <- max(1, end - 29):end
         ok <- !is.na(x[w]) & !is.na(y[w])
         if (sum(ok) < 15) NA else cor(x[w], y[w], use = "complete.obs")
       })`,
      { x: nulls(x), y: nulls(y) },
    );
    expect(theirs).toHaveLength(values.length);
    theirs.forEach((r, i) => {
      if (r === null) expect(values[i]).toBeNaN();
      else expect(Math.abs(values[i] - r)).toBeLessThan(1e-9);
    });
  });

  it('is unknown where a channel stands still, and not 0', () => {
    const grid: BinGrid = { binMs: 10_000, firstBin: 0, count: 120 };
    const next = noise(5);
    const moving = listOf(120, () => 80 + next());
    const still = listOf(120, () => 0.1 + 0.2);
    for (const pair of [
      [still, moving],
      [moving, still],
    ]) {
      const { values } = movingCorrelation(pair[0], pair[1], grid, { pairs: 30, leastPairs: 15 });
      expect(values.every(Number.isNaN)).toBe(true);
    }
  });

  it('does not lose digits over 30 days', () => {
    const count = 30 * 8640;
    const [a, b] = [wandering(51, 0.9), wandering(52, 0.9)];
    const x = listOf(count, () => 1e4 + a());
    const y = listOf(count, (i) => 1e4 + (x[i] - 1e4) + b());
    const grid: BinGrid = { binMs: 10_000, firstBin: 0, count };
    const whole = movingCorrelation(x, y, grid, { pairs: 30, leastPairs: 15 }).values.at(-1)!;
    const last = movingCorrelation(
      x.slice(-30),
      y.slice(-30),
      { ...grid, firstBin: count - 30, count: 30 },
      { pairs: 30, leastPairs: 15 },
    ).values.at(-1)!;
    expect(Math.abs(whole - last)).toBeLessThan(1e-12);
  });

  it('gives the mean of the same window too', () => {
    const grid: BinGrid = { binMs: 10_000, firstBin: 0, count: 60 };
    const { firstEnd, values } = movingMean(
      listOf(60, (i) => i),
      grid,
      { pairs: 30, leastPairs: 15 },
    );
    expect(firstEnd).toBe(60_000);
    // Of 6 and of 12 pairs there are too few; then 0..17, 0..23, 0..29, 6..35 ...
    expect([...values]).toEqual([NaN, NaN, 8.5, 11.5, 14.5, 20.5, 26.5, 32.5, 38.5, 44.5]);
  });
});
