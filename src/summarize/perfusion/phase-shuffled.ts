import FFT from 'fft.js';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import type { RandomGenerator } from 'pure-rand/types/RandomGenerator';

/** The list with unknown values drawn over by lines, so that it has a spectrum. */
function drawnOver(values: Float64Array): Float64Array {
  const filled = Float64Array.from(values);
  let last = -1;
  for (let i = 0; i <= filled.length; i++) {
    if (i < filled.length && Number.isNaN(values[i])) continue;
    const before = last < 0 ? values[i] : values[last];
    const after = i < filled.length ? values[i] : before;
    for (let k = last + 1; k < i; k++) filled[k] = before + ((after - before) * (k - last)) / (i - last);
    last = i;
  }
  return filled;
}

const meanOf = (values: Float64Array): number =>
  values.reduce((sum, x) => sum + x, 0) / Math.max(1, values.length);

const spreadOf = (values: Float64Array, mean: number): number =>
  Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / Math.max(1, values.length));

/**
 * A copy of a list with the same spectrum, mean and spread, whose phases are drawn anew: it wanders as the list does and
 * has nothing to do with it. Unknown values stay unknown. Source: Theiler et al., Physica D 1992;58:77-94.
 *
 * @param values with one known value at least; not changed
 */
export function phaseShuffled(values: Float64Array, random: RandomGenerator): Float64Array {
  const filled = drawnOver(values);
  const mean = meanOf(filled);
  const size = 2 ** Math.max(1, Math.ceil(Math.log2(Math.max(2, values.length))));
  const transform = new FFT(size);
  const padded = new Float64Array(size);
  for (let i = 0; i < filled.length; i++) padded[i] = filled[i] - mean;
  const spectrum = new Float64Array(2 * size);
  transform.realTransform(spectrum, padded);
  for (let k = 1; k < size / 2; k++) {
    const angle = 2 * Math.PI * uniformFloat64(random);
    const [re, im, cos, sin] = [spectrum[2 * k], spectrum[2 * k + 1], Math.cos(angle), Math.sin(angle)];
    spectrum[2 * k] = re * cos - im * sin;
    spectrum[2 * k + 1] = re * sin + im * cos;
  }
  transform.completeSpectrum(spectrum);
  const back = new Float64Array(2 * size);
  transform.inverseTransform(back, spectrum);
  const shuffled = Float64Array.from(filled, (_, i) => back[2 * i]);
  // Zeros behind the list take their part of the power.
  const centre = meanOf(shuffled);
  const spread = spreadOf(shuffled, centre);
  const factor = spread > 0 ? spreadOf(filled, mean) / spread : 0;
  return shuffled.map((x, i) => (Number.isNaN(values[i]) ? Number.NaN : mean + (x - centre) * factor));
}
