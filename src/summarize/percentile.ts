import { distinctSorted } from '../recording/distinct.js';
import type { Interval } from '../recording/interval.js';
import { cutTo } from '../recording/pieces.js';
import { firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';

/** Values this close, mmHg, differ by rounding only: a slope between them would drown all others in the sums. */
const ALIKE = 1e-7;

/** The samples at the ends of known pieces; the others are NaN. */
function onKnownPieces(samples: Float64Array, known: Uint8Array): Float64Array {
  const kept = samples.slice();
  for (let i = 0; i < kept.length; i++) if (!known[i] && !(i > 0 && known[i - 1])) kept[i] = Number.NaN;
  return kept;
}

/**
 * The value under which x spends the share `p` (0 to 1) of the monitored time, exact for the piecewise linear x(t):
 * a sloping piece spreads its length evenly over its values, a flat one puts it on one value.
 *
 * @returns NaN where nothing is known; the middle of the gap where the share falls between two values
 */
export function timeWeightedPercentile(signal: Signal, window: Interval, p: number): number {
  const { times, values: samples, known } = cutTo(signal, window);
  const values = distinctSorted(onKnownPieces(samples, known));
  // How much time x spends exactly at each value, and how its density changes there.
  const atoms = new Float64Array(values.length);
  const slopes = new Float64Array(values.length);
  let total = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (!known[i]) continue;
    const width = times[i + 1] - times[i];
    total += width;
    const rise = Math.abs(samples[i + 1] - samples[i]);
    if (rise <= ALIKE) {
      atoms[firstAtOrAfter(values, samples[i])] += width;
      continue;
    }
    slopes[firstAtOrAfter(values, Math.min(samples[i], samples[i + 1]))] += width / rise;
    slopes[firstAtOrAfter(values, Math.max(samples[i], samples[i + 1]))] -= width / rise;
  }
  if (total === 0) return Number.NaN;
  const target = p * total;
  // Sums of many lengths: a share that is met to this much counts as met.
  const slack = total * 1e-12;
  let below = 0;
  let density = 0;
  for (let i = 0; i < values.length; i++) {
    below += atoms[i];
    density += slopes[i];
    if (below >= target + slack || i + 1 === values.length) return values[i];
    const room = Math.max(0, density) * (values[i + 1] - values[i]);
    if (below + slack >= target) {
      // Exactly the share lies at or under this value; without time in between, the gap is split.
      return room > slack ? values[i] : (values[i] + values[i + 1]) / 2;
    }
    if (below + room >= target) return values[i] + (target - below) / density;
    below += room;
  }
  return Number.NaN;
}
