import { describe, expect, it } from 'vitest';
import { pulseRateHz } from '../../../src/ingest/waveform/pulse-rate.js';
import { Spectrum } from '../../../src/ingest/waveform/spectrum.js';
import { runPython } from '../../support/python.js';

const TWO_PI = 2 * Math.PI;

/** Samples of a function of time in seconds. */
const sampled = (f: (t: number) => number, perSecond = 125, seconds = 10): Float64Array =>
  Float64Array.from({ length: perSecond * seconds }, (_, i) => f(i / perSecond));

const spectrumOf = (f: (t: number) => number, perSecond = 125, seconds = 10): Spectrum =>
  new Spectrum(sampled(f, perSecond, seconds), 1000 / perSecond, 6.6);

const sine =
  (hz: number, amplitude: number, phase = 0) =>
  (t: number): number =>
    amplitude * Math.sin(TWO_PI * hz * t + phase);

/** A seeded noise between -1 and 1 (a linear congruential generator; Numerical Recipes' constants, value from memory). */
function noise(): () => number {
  let state = 2_031_0211;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

describe('the amplitude and frequency of a sine', () => {
  const frequencies = Array.from({ length: 60 }, (_, i) => 0.68 + i * 0.0437);

  it.each([
    [50, 10],
    [125, 10],
    [250, 8],
  ])(
    'are right to half a percent and 0.002 Hz between the lines too, %i a second over %i s',
    (perSecond, seconds) => {
      for (const hz of frequencies) {
        for (const phase of [0, 1, 2.5]) {
          const spectrum = spectrumOf((t) => 14 + 0.3 * t + sine(hz, 2, phase)(t), perSecond, seconds);
          const peak = spectrum.peakHz(spectrum.loudest(0.6, 3.4));
          expect(Math.abs(peak - hz), `${hz} Hz`).toBeLessThan(0.002);
          expect(Math.abs(spectrum.at(peak) / 2 - 1), `${hz} Hz`).toBeLessThan(0.005);
        }
      }
    },
  );

  it('is half of peak to peak', () => {
    const spectrum = spectrumOf(sine(1.2, 3));
    expect(spectrum.at(1.2)).toBeCloseTo(3, 2);
  });

  it('is nothing for a line, and nearly nothing far from the sine', () => {
    expect(spectrumOf((t) => 12 + 5 * t).at(1.2)).toBeLessThan(1e-9);
    expect(spectrumOf(sine(1.2, 3)).at(2.4)).toBeLessThan(3 * 0.001);
  });

  it('is what numpy and scipy compute, to a relative 1e-9', () => {
    const perSecond = 125;
    const next = noise();
    const values = sampled((t) => 13 + 0.2 * t + sine(1.13, 1.4)(t) + sine(0.27, 0.9)(t) + next(), perSecond);
    const asked = [0.67, 0.9, 1.13, 1.1317, 2.26, 3.3];
    const expected = runPython<{ at: number[]; lines: number[] }>(
      `
import json, sys
import numpy as np, scipy.signal
given = json.load(sys.stdin)
x = np.array(given['values'])
n = len(x)
w = 0.5 - 0.5 * np.cos(2 * np.pi * (np.arange(n) + 0.5) / n)
y = scipy.signal.detrend(x, type='linear') * w
t = np.arange(n) / given['perSecond']
at = [2 * abs(np.sum(y * np.exp(-2j * np.pi * f * t))) / w.sum() for f in given['asked']]
lines = (2 * np.abs(np.fft.rfft(y, given['size'])) / w.sum()).tolist()
json.dump({'at': at, 'lines': lines}, sys.stdout)
`,
      { values: [...values], perSecond, asked, size: 2048 },
    );
    const spectrum = new Spectrum(values, 1000 / perSecond, 6.6);
    expect(spectrum.stepHz).toBeCloseTo(perSecond / 2048, 12);
    asked.forEach((hz, i) => {
      expect(Math.abs(spectrum.at(hz) / expected.at[i] - 1)).toBeLessThan(1e-9);
    });
    spectrum.amplitudes.forEach((amplitude, k) => {
      expect(Math.abs(amplitude - expected.lines[k])).toBeLessThan(1e-9);
    });
  });
});

describe('the heart rate of a spectrum', () => {
  const rateOf = (f: (t: number) => number): number | null => pulseRateHz(spectrumOf(f));
  const all =
    (...parts: ((t: number) => number)[]) =>
    (t: number): number =>
      parts.reduce((sum, part) => sum + part(t), 0);

  it('is that of the pulse, with breathing, slow waves and noise beside it', () => {
    const next = noise();
    for (const hz of [0.75, 0.97, 1.2, 1.63, 2.2, 3.1]) {
      const found = rateOf(
        all(sine(hz, 1.5), sine(2 * hz, 0.7, 1), sine(0.26, 1.6), sine(1 / 20, 3), () => 0.3 * next()),
      );
      expect(found, `${hz} Hz`).not.toBeNull();
      expect(Math.abs(found! - hz), `${hz} Hz`).toBeLessThan(0.02);
    }
  });

  it('is the fundamental where the second or the third harmonic is larger', () => {
    for (const hz of [0.72, 0.95, 1.1, 1.4, 1.6]) {
      expect(rateOf(all(sine(hz, 0.5), sine(2 * hz, 1.4, 1)))).toBeCloseTo(hz, 1);
    }
    expect(rateOf(all(sine(0.9, 0.6), sine(1.8, 0.7, 1), sine(2.7, 1.2, 2)))).toBeCloseTo(0.9, 1);
  });

  it('is no harmonic of breathing', () => {
    const breath = all(sine(0.45, 3), sine(0.9, 0.8, 1), sine(1.35, 0.3, 2));
    expect(rateOf(all(breath, sine(1.62, 0.6)))).toBeCloseTo(1.62, 1);
    // The pulse at twice a harmonic of breathing is not halved.
    expect(rateOf(all(breath, sine(1.8, 1)))).toBeCloseTo(1.8, 1);
  });

  it('is not known in noise, in a line and in what stands still', () => {
    const next = noise();
    for (let k = 0; k < 200; k++) expect(rateOf(() => next())).toBeNull();
    expect(rateOf(() => 12)).toBeNull();
    expect(rateOf((t) => 12 + t)).toBeNull();
  });
});
