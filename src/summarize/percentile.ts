import type { Interval } from '../recording/interval.js';
import { forEachPiece } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

/** How much time x spends exactly at a value, and how the density changes there. */
interface Event {
  atom: number;
  slope: number;
}

/** Values this close, mmHg, differ by rounding only: a slope between them would drown all others in the sums. */
const ALIKE = 1e-7;

/**
 * The value under which x spends the share `p` (0 to 1) of the monitored time, exact for the piecewise linear x(t):
 * a sloping piece spreads its length evenly over its values, a flat one puts it on one value.
 *
 * @returns NaN where nothing is known; the middle of the gap where the share falls between two values
 */
export function timeWeightedPercentile(signal: Signal, window: Interval, p: number): number {
  const events = new Map<number, Event>();
  const at = (value: number): Event => {
    let event = events.get(value);
    if (!event) {
      event = { atom: 0, slope: 0 };
      events.set(value, event);
    }
    return event;
  };
  let total = 0;
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    const width = t1 - t0;
    total += width;
    if (Math.abs(x1 - x0) <= ALIKE) {
      at(x0).atom += width;
      return;
    }
    const density = width / Math.abs(x1 - x0);
    at(Math.min(x0, x1)).slope += density;
    at(Math.max(x0, x1)).slope -= density;
  });
  if (total === 0) return Number.NaN;
  const values = Float64Array.from(events.keys()).sort();
  const target = p * total;
  // Sums of many lengths: a share that is met to this much counts as met.
  const slack = total * 1e-12;
  let below = 0;
  let density = 0;
  for (let i = 0; i < values.length; i++) {
    const { atom, slope } = at(values[i]);
    below += atom;
    density += slope;
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
