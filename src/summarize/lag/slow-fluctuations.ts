import { NORMAL } from '../../clean/robust-spread.js';
import { median } from '../../recording/rolling-median.js';

/** Values further out are taken as this far out, so that no single event decides. Own convention. */
const CLIP_DEVIATIONS = 3;

/** A mean over so many bins on both sides of each, taken off; NaN where less than half of the bins are known. */
function withoutDrift(bins: Float64Array, half: number): Float64Array {
  const sums = new Float64Array(bins.length + 1);
  const counts = new Uint32Array(bins.length + 1);
  bins.forEach((x, i) => {
    const isKnown = !Number.isNaN(x);
    sums[i + 1] = sums[i] + (isKnown ? x : 0);
    counts[i + 1] = counts[i] + (isKnown ? 1 : 0);
  });
  return bins.map((x, i) => {
    const from = Math.max(0, i - half);
    const to = Math.min(bins.length, i + half + 1);
    const known = counts[to] - counts[from];
    return known > half ? x - (sums[to] - sums[from]) / known : Number.NaN;
  });
}

/**
 * What a series of bins does faster than a moving mean over `2 x half + 1` of them, clipped at three robust standard
 * deviations.
 *
 * @returns NaN where it is not known; null where half of the bins or more do not differ from that mean: it hardly varies
 */
export function slowFluctuations(bins: Float64Array, half: number): Float64Array | null {
  const fast = withoutDrift(bins, half);
  const known = fast.filter((x) => !Number.isNaN(x));
  if (known.length === 0) return fast;
  const deviation = NORMAL * median(known.map(Math.abs));
  // Sums of the same values leave a rest in the last bits.
  if (deviation < 1e-9) return null;
  const most = CLIP_DEVIATIONS * deviation;
  return fast.map((x) => (Number.isNaN(x) ? x : Math.max(-most, Math.min(most, x))));
}
