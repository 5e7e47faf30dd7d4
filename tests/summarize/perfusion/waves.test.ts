import { describe, expect, it } from 'vitest';
import { bandAmplitude, bWavesIn, plateauWaves } from '../../../src/summarize/perfusion/waves.js';
import { listOf, noise, wandering } from '../../support/noise.js';
import { runPython } from '../../support/python.js';
import { seconds } from '../../support/shapes.js';
import { everySeconds, T0, through } from '../../support/signals.js';

const wave = (amplitude: number, perMinute: number): Float64Array =>
  listOf(60, (k) => 14 + amplitude * Math.sin((2 * Math.PI * perMinute * k) / 6 + 0.4));

describe('the band of B waves', () => {
  it('has the amplitude of a sine in it, and nothing of one beside it', () => {
    for (const perMinute of [0.5, 0.8, 1, 1.5, 2]) {
      // The line through whole waves is nearly level, so nearly all of the sine stays.
      expect(bandAmplitude(wave(6, perMinute))).toBeGreaterThan(5.7);
      expect(bandAmplitude(wave(6, perMinute))).toBeLessThan(6.1);
    }
    expect(bandAmplitude(wave(6, 2.5))).toBeLessThan(0.2);
    expect(bandAmplitude(listOf(60, (k) => 14 + k / 3))).toBeLessThan(1e-9);
  });

  // Outside source: scipy.signal.periodogram, linear detrend, one-sided density; power of the band is its sum times the
  // distance of frequencies, and the amplitude of a sine of that power sqrt(2 x power); to 1e-9.
  it('is that of scipy', () => {
    const lists = Array.from({ length: 20 }, (_, k) => {
      const next = wandering(300 + k, 0.7);
      return listOf(60, (i) => 15 + 4 * next() + 3 * Math.sin(i / (2 + k / 5)));
    });
    const theirs = runPython<number[]>(
      `import json, sys
import numpy as np
from scipy.signal import periodogram
out = []
for x in json.load(sys.stdin):
    f, p = periodogram(np.array(x), fs=0.1, detrend='linear')
    band = (f >= 0.5 / 60 - 1e-9) & (f <= 2 / 60 + 1e-9)
    out.append(float(np.sqrt(2 * p[band].sum() * f[1])))
print(json.dumps(out))`,
      lists.map((list) => [...list]),
    );
    lists.forEach((list, i) => {
      expect(Math.abs(bandAmplitude(list) - theirs[i])).toBeLessThan(1e-9);
    });
  });

  it('is unknown where more than a tenth is', () => {
    const six = wave(6, 1).map((x, k) => (k % 10 === 3 ? Number.NaN : x));
    expect(bandAmplitude(six)).toBeGreaterThan(4);
    six[0] = Number.NaN;
    expect(bandAmplitude(six)).toBeNaN();
  });

  it('is looked for in each 10 min that is known', () => {
    // An hour from a full 10 min on: 20 min of waves of 7 mmHg, then quiet, and 12 min that are missing.
    const values = Array.from({ length: 3601 }, (_, s) => {
      if (s >= 2400 && s < 3120) return Number.NaN;
      return 14 + (s < 1200 ? 7 * Math.sin((2 * Math.PI * s) / 60) : 0);
    });
    const icp = everySeconds(1, values);
    expect(T0 % 600_000).toBe(0);
    expect(bWavesIn({ signal: icp, intervalMs: 1000 }, seconds(0, 3600))).toEqual({
      windows: 4,
      windowsWith: 2,
    });
  });
});

describe('plateau waves', () => {
  const plateau = (minutes: number) =>
    through([
      [0, 15],
      [600, 15],
      [601, 60],
      [600 + minutes * 60, 60],
      [601 + minutes * 60, 18],
      [7200, 18],
    ]);

  it('last 5 to 20 min over 50 mmHg', () => {
    expect(plateauWaves(plateau(4))).toEqual({ waves: [], cut: [] });
    expect(plateauWaves(plateau(21))).toEqual({ waves: [], cut: [] });
    for (const minutes of [5.1, 12, 19.9]) {
      const [found, ...more] = plateauWaves(plateau(minutes)).waves;
      expect(more).toEqual([]);
      expect((found.end - found.start) / 60_000).toBeCloseTo(minutes, 1);
      expect(found).toMatchObject({ highestMmHg: 60 });
      expect(found.meanMmHg).toBeCloseTo(60, 1);
    }
  });

  it('may stand at 50 mmHg itself', () => {
    const level = through([
      [0, 15],
      [600, 15],
      [601, 50],
      [1201, 50],
      [1202, 15],
      [3600, 15],
    ]);
    expect(plateauWaves(level).waves).toHaveLength(1);
  });

  it('that are cut off may be longer, and are counted apart', () => {
    // 36 min at 60 mmHg with a hole of 3 min in the middle.
    const values = Array.from({ length: 3601 }, (_, s) => {
      if (s >= 1500 && s < 1680) return Number.NaN;
      return s >= 500 && s < 2660 ? 60 : 14;
    });
    const { waves, cut } = plateauWaves(everySeconds(1, values));
    expect(waves).toEqual([]);
    expect(cut).toHaveLength(2);
  });

  it('are no coughs', () => {
    const next = noise(8);
    const values = Array.from({ length: 3600 }, (_, s) => (s % 300 < 20 ? 70 : 14) + next());
    expect(plateauWaves(everySeconds(1, values)).waves).toEqual([]);
  });
});
