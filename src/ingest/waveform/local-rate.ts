import { SECOND_MS } from './second.js';
import { WIDEST_INTERVAL_MS } from './waveform-plan.js';

/** Samples further apart than this many intervals do not follow each other. */
export const HOLE_INTERVALS = 2.5;
/** A second counts where samples cover at least this share of it. */
const ENOUGH = 0.5;
/** Two rates are the same within this share. */
const SAME = 0.1;
/** So many seconds in a row show that the rate has changed. */
const SECONDS_OF_A_CHANGE = 3;

const isAbout = (a: number, b: number): boolean => Math.abs(a - b) <= SAME * b;

/** Fewer samples do not show a rate, */
const LEAST_SAMPLES = 10;
/** and neither do spacings of which less than this share are alike: what is left of a rate is none. */
const ALIKE = 0.75;

/**
 * How samples follow each other within a second, milliseconds, from those that stand close: by the spacing that a quarter
 * of them stays under, since holes make the others longer. NaN where they are few or not alike.
 */
function spacingIn(times: Float64Array, count: number): number {
  if (count < LEAST_SAMPLES) return Number.NaN;
  const spacings = new Float64Array(count - 1);
  for (let i = 1; i < count; i++) spacings[i - 1] = times[i] - times[i - 1];
  const close = spacings.sort()[Math.floor(spacings.length / 4)];
  // Times in whole milliseconds make 2 and 3 of 2.5.
  const longest = Math.max(1.75 * close, close + 1);
  let n = 0;
  while (n < spacings.length && spacings[n] <= longest) n++;
  if (n < ALIKE * spacings.length) return Number.NaN;
  return spacings.subarray(0, n).reduce((sum, spacing) => sum + spacing, 0) / n;
}

/** What the samples span without holes, milliseconds. */
function spanned(times: Float64Array, count: number, longestMs: number): number {
  let sum = 0;
  for (let i = 1; i < count; i++) {
    const spacing = times[i] - times[i - 1];
    if (spacing <= longestMs) sum += spacing;
  }
  return sum;
}

/** How samples follow each other at the place that is read, which may change within a file. */
export class LocalRate {
  private candidate = Number.NaN;
  private seen = 0;

  constructor(
    /** From sample to sample, milliseconds. */
    public intervalMs: number,
  ) {}

  get perSecond(): number {
    return SECOND_MS / this.intervalMs;
  }

  /** True where a second holds as many samples as it should, up to a tenth. */
  isWhole(count: number): boolean {
    return isAbout(count * this.intervalMs, SECOND_MS);
  }

  /** True where the first `count` times, all in one second, cover half of it: at this rate or at their own. */
  coversHalf(times: Float64Array, count: number): boolean {
    if (this.isWhole(count)) return true;
    const { intervalMs } = this;
    const least = ENOUGH * SECOND_MS;
    const isSpanned =
      count * intervalMs >= least &&
      spanned(times, count, HOLE_INTERVALS * intervalMs) + 1.5 * intervalMs >= least;
    if (isSpanned) return true;
    const own = spacingIn(times, count);
    return own <= WIDEST_INTERVAL_MS && count * own >= least;
  }

  /** Takes note of the samples of a second; true where it is the last of three whole ones at another rate, which counts from now on. */
  follow(times: Float64Array, count: number): boolean {
    if (this.isWhole(count)) {
      this.seen = 0;
      return false;
    }
    const own = spacingIn(times, count);
    const isOther =
      own <= WIDEST_INTERVAL_MS && isAbout(count * own, SECOND_MS) && !isAbout(own, this.intervalMs);
    if (!isOther) this.seen = 0;
    else if (this.seen > 0 && isAbout(own, this.candidate)) this.seen++;
    else this.seen = 1;
    this.candidate = own;
    if (this.seen < SECONDS_OF_A_CHANGE) return false;
    this.intervalMs = own;
    this.seen = 0;
    return true;
  }
}
