import type { Interval } from '../../recording/interval.js';
import type { Signal } from '../../recording/signal.js';

/**
 * Means over bins that start on UTC multiples of `binMs`, from the first to the last that lie wholly inside the window;
 * NaN where less than half of a bin is known.
 */
export function binMeans({ times, values, known }: Signal, window: Interval, binMs: number): Float64Array {
  const first = Math.ceil(window.start / binMs);
  const count = Math.max(0, Math.floor(window.end / binMs) - first);
  const area = new Float64Array(count);
  const length = new Float64Array(count);
  for (let i = 0; i + 1 < times.length; i++) {
    if (known[i] === 0) continue;
    const [t0, t1, x0] = [times[i], times[i + 1], values[i]];
    const slope = (values[i + 1] - x0) / (t1 - t0);
    const from = Math.max(0, Math.floor(t0 / binMs) - first);
    for (let bin = from; bin < count && (first + bin) * binMs < t1; bin++) {
      const start = Math.max(t0, (first + bin) * binMs);
      const end = Math.min(t1, (first + bin + 1) * binMs);
      area[bin] += (x0 + slope * ((start + end) / 2 - t0)) * (end - start);
      length[bin] += end - start;
    }
  }
  return area.map((sum, bin) => (length[bin] >= binMs / 2 ? sum / length[bin] : Number.NaN));
}
