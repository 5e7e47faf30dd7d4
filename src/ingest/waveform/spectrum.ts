import FFT from 'fft.js';

/** The spectrum is as fine as if the window were this many times as long, so that a peak is never between two lines. */
const LEAST_PADDING = 1.5;

/** Windows and transforms, by length: nearly all pieces of a file have the same few. */
const windows = new Map<number, Float64Array>();
const transforms = new Map<number, FFT>();
const MOST_KEPT = 32;

function kept<T>(all: Map<number, T>, length: number, make: () => T): T {
  const known = all.get(length);
  if (known !== undefined) return known;
  if (all.size >= MOST_KEPT) all.clear();
  const made = make();
  all.set(length, made);
  return made;
}

/** Hann's window over so many samples, without zeros at its ends. */
function hann(length: number): Float64Array {
  return kept(windows, length, () =>
    Float64Array.from({ length }, (_, i) => 0.5 - 0.5 * Math.cos((2 * Math.PI * (i + 0.5)) / length)),
  );
}

/** The samples without the straight line that fits them best, by least squares. */
function withoutLine(values: Float64Array): Float64Array {
  const n = values.length;
  const middle = (n - 1) / 2;
  let sum = 0;
  let moment = 0;
  for (let i = 0; i < n; i++) {
    sum += values[i];
    moment += (i - middle) * values[i];
  }
  const mean = sum / n;
  const slope = moment / ((n * (n * n - 1)) / 12);
  return values.map((value, i) => value - mean - slope * (i - middle));
}

/** Amplitudes of a piece of evenly spaced samples, half of peak to peak of a sine, at any frequency. */
export class Spectrum {
  /** From line to line, Hz. */
  readonly stepHz: number;
  /** At multiples of the step, up to the highest frequency that was asked for. */
  readonly amplitudes: Float64Array;
  /** Windowed samples over the sum of the window, doubled: their transform is an amplitude. */
  private readonly weighted: Float64Array;

  /** @param highestHz amplitudes are computed up to there */
  constructor(
    values: Float64Array,
    private readonly intervalMs: number,
    highestHz: number,
  ) {
    const window = hann(values.length);
    const size = 2 ** Math.ceil(Math.log2(LEAST_PADDING * values.length));
    const padded = new Float64Array(size);
    const flat = withoutLine(values);
    // The window sums up to half of its length.
    const scale = 4 / values.length;
    for (let i = 0; i < flat.length; i++) padded[i] = flat[i] * window[i] * scale;
    this.weighted = padded.subarray(0, values.length);
    this.stepHz = 1000 / (intervalMs * size);
    const transform = kept(transforms, size, () => new FFT(size));
    const lines = new Float64Array(2 * size);
    transform.realTransform(lines, padded);
    const count = Math.min(size / 2, Math.floor(highestHz / this.stepHz) + 1);
    this.amplitudes = new Float64Array(count);
    for (let k = 0; k < count; k++) this.amplitudes[k] = Math.hypot(lines[2 * k], lines[2 * k + 1]);
  }

  /** The amplitude at a frequency between the lines. */
  at(hz: number): number {
    const { weighted } = this;
    const turn = (2 * Math.PI * hz * this.intervalMs) / 1000;
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    let real = 0;
    let imaginary = 0;
    let [c, s] = [1, 0];
    for (let i = 0; i < weighted.length; i++) {
      real += weighted[i] * c;
      imaginary += weighted[i] * s;
      [c, s] = [c * cos - s * sin, c * sin + s * cos];
    }
    return Math.hypot(real, imaginary);
  }

  /** The frequency of the peak at a line, by a parabola through the logarithms of its neighbours, Hz. */
  peakHz(line: number): number {
    const [a, b, c] = [line - 1, line, line + 1].map((k) => Math.log(this.amplitudes[k]));
    const shift = (a - c) / (2 * (a - 2 * b + c));
    return (line + (Number.isFinite(shift) ? shift : 0)) * this.stepHz;
  }

  /** The line of the largest amplitude from one frequency to another. */
  loudest(fromHz: number, toHz: number): number {
    const last = Math.min(this.amplitudes.length - 1, Math.floor(toHz / this.stepHz));
    let best = Math.min(last, Math.ceil(fromHz / this.stepHz));
    for (let k = best + 1; k <= last; k++) if (this.amplitudes[k] > this.amplitudes[best]) best = k;
    return best;
  }

  /** True where the amplitude is larger than at both neighbouring lines. */
  isPeak(line: number): boolean {
    const { amplitudes } = this;
    return amplitudes[line] > (amplitudes[line - 1] ?? 0) && amplitudes[line] > (amplitudes[line + 1] ?? 0);
  }
}
