import type { Interval } from '../recording/interval.js';
import { cutTo } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

/** Milliseconds in an hour: signals count in milliseconds, figures in hours. */
export const HOUR_MS = 3_600_000;

/** Hours over which the signal is known inside the window. */
export function monitoredHours(signal: Signal, window: Interval): number {
  const { times, known } = cutTo(signal, window);
  let ms = 0;
  for (let i = 0; i + 1 < times.length; i++) if (known[i]) ms += times[i + 1] - times[i];
  return ms / HOUR_MS;
}

/** Hours over which x(t) > threshold, crossings exact. Threshold in the signal's unit. */
export function hoursAbove(signal: Signal, window: Interval, threshold: number): number {
  const { times, values, known } = cutTo(signal, window);
  let ms = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (!known[i]) continue;
    const highest = Math.max(values[i], values[i + 1]);
    if (highest <= threshold) continue;
    const lowest = Math.min(values[i], values[i + 1]);
    const width = times[i + 1] - times[i];
    ms += lowest >= threshold ? width : (width * (highest - threshold)) / (highest - lowest);
  }
  return ms / HOUR_MS;
}

/** Hours over which x(t) < threshold, crossings exact. */
export function hoursBelow(signal: Signal, window: Interval, threshold: number): number {
  const { times, values, known } = cutTo(signal, window);
  let ms = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (!known[i]) continue;
    const lowest = Math.min(values[i], values[i + 1]);
    if (lowest >= threshold) continue;
    const highest = Math.max(values[i], values[i + 1]);
    const width = times[i + 1] - times[i];
    ms += highest <= threshold ? width : (width * (threshold - lowest)) / (highest - lowest);
  }
  return ms / HOUR_MS;
}

/** A range of values; the lower end belongs to it, the upper one where `closed`. */
export interface Band {
  readonly from: number;
  readonly to: number;
  readonly closed: boolean;
}

/** Hours over which x(t) lies in the band, crossings exact. */
export function hoursInBand(signal: Signal, window: Interval, { from, to, closed }: Band): number {
  const { times, values, known } = cutTo(signal, window);
  let ms = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (!known[i]) continue;
    const highest = Math.max(values[i], values[i + 1]);
    const lowest = Math.min(values[i], values[i + 1]);
    const width = times[i + 1] - times[i];
    if (highest === lowest) {
      if (lowest >= from && (lowest < to || (closed && lowest === to))) ms += width;
      continue;
    }
    const inside = Math.min(highest, to) - Math.max(lowest, from);
    if (inside > 0) ms += (width * inside) / (highest - lowest);
  }
  return ms / HOUR_MS;
}
