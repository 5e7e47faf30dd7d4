import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { phaseShuffled } from '../../../src/summarize/perfusion/phase-shuffled.js';
import { listOf, wandering } from '../../support/noise.js';
import { runPython } from '../../support/python.js';

const series = (count: number, seed = 1): Float64Array => {
  const next = wandering(seed, 0.97);
  return listOf(count, () => 85 + 9 * next());
};

describe('a phase-shuffled copy', () => {
  // Outside source: numpy.fft.rfft, whose magnitudes of copy and list agree to a relative 1e-9 where the length is a power
  // of two, and numpy.corrcoef, whose r over many copies has no leaning.
  it('has the spectrum of the list, and nothing to do with it', () => {
    const values = series(2048);
    const random = xoroshiro128plus(3);
    const copies = Array.from({ length: 60 }, () => phaseShuffled(values, random));
    const { apart, r } = runPython<{ apart: number; r: number[] }>(
      `import json, sys
import numpy as np
q = json.load(sys.stdin)
x = np.array(q['values']); c = np.array(q['copies'])
a = np.abs(np.fft.rfft(x)); b = np.abs(np.fft.rfft(c, axis=1))
keep = slice(1, len(a) - 1)
print(json.dumps(dict(apart=float(np.max(np.abs(b[:, keep] / a[keep] - 1))), r=[float(np.corrcoef(x, k)[0, 1]) for k in c])))`,
      { values: [...values], copies: copies.map((copy) => [...copy]) },
    );
    expect(apart).toBeLessThan(1e-9);
    const mean = r.reduce((a, b) => a + b) / r.length;
    const spread = Math.sqrt(r.reduce((a, b) => a + (b - mean) ** 2, 0) / (r.length - 1));
    expect(Math.abs(mean)).toBeLessThan((3 * spread) / Math.sqrt(r.length));
    expect(Math.max(...r)).toBeLessThan(0.7);
  });

  it('keeps mean and spread at any length, and what is unknown unknown', () => {
    const values = series(1000).map((x, i) => (i % 97 < 9 ? Number.NaN : x));
    const copy = phaseShuffled(values, xoroshiro128plus(4));
    expect([...copy].map(Number.isNaN)).toEqual([...values].map(Number.isNaN));
    const known = (list: Float64Array): number[] => [...list].filter((x) => !Number.isNaN(x));
    const mean = (list: number[]): number => list.reduce((a, b) => a + b) / list.length;
    expect(Math.abs(mean(known(copy)) - mean(known(values)))).toBeLessThan(1.5);
    const spread = (list: number[]): number => Math.sqrt(mean(list.map((x) => (x - mean(list)) ** 2)));
    expect(spread(known(copy)) / spread(known(values))).toBeCloseTo(1, 0);
  });

  it('is the same from the same seed', () => {
    const values = series(300);
    expect(phaseShuffled(values, xoroshiro128plus(5))).toEqual(phaseShuffled(values, xoroshiro128plus(5)));
    expect(phaseShuffled(values, xoroshiro128plus(5))).not.toEqual(
      phaseShuffled(values, xoroshiro128plus(6)),
    );
  });

  it('stands still where the list does', () => {
    expect(new Set(phaseShuffled(new Float64Array(64).fill(80), xoroshiro128plus(1)))).toEqual(new Set([80]));
  });
});
