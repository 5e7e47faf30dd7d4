import type { Interval } from '../recording/interval.js';
import { forEachPiece } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';

/** Milliseconds in an hour: signals count in milliseconds, figures in hours. */
export const HOUR_MS = 3_600_000;

/** Hours over which the signal is known inside the window. */
export function monitoredHours(signal: Signal, window: Interval): number {
  let ms = 0;
  forEachPiece(signal, window, (t0, _x0, t1) => {
    ms += t1 - t0;
  });
  return ms / HOUR_MS;
}

/** Hours over which x(t) > threshold, crossings exact. Threshold in the signal's unit. */
export function hoursAbove(signal: Signal, window: Interval, threshold: number): number {
  let ms = 0;
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    const highest = Math.max(x0, x1);
    const lowest = Math.min(x0, x1);
    if (highest <= threshold) return;
    ms += lowest >= threshold ? t1 - t0 : ((t1 - t0) * (highest - threshold)) / (highest - lowest);
  });
  return ms / HOUR_MS;
}

/** Hours over which x(t) < threshold, crossings exact. */
export function hoursBelow(signal: Signal, window: Interval, threshold: number): number {
  let ms = 0;
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    const highest = Math.max(x0, x1);
    const lowest = Math.min(x0, x1);
    if (lowest >= threshold) return;
    ms += highest <= threshold ? t1 - t0 : ((t1 - t0) * (threshold - lowest)) / (highest - lowest);
  });
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
  let ms = 0;
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    const highest = Math.max(x0, x1);
    const lowest = Math.min(x0, x1);
    if (highest === lowest) {
      if (lowest >= from && (lowest < to || (closed && lowest === to))) ms += t1 - t0;
      return;
    }
    const inside = Math.min(highest, to) - Math.max(lowest, from);
    if (inside > 0) ms += ((t1 - t0) * inside) / (highest - lowest);
  });
  return ms / HOUR_MS;
}
