import type { Interval } from '../recording/interval.js';
import { forEachPiece } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';
import { HOUR_MS } from './time.js';

/** Area of max(0, y) under the line from y0 to y1 over `width`. */
function areaOverZero(y0: number, y1: number, width: number): number {
  if (y0 <= 0 && y1 <= 0) return 0;
  if (y0 >= 0 && y1 >= 0) return ((y0 + y1) / 2) * width;
  const over = Math.max(y0, y1);
  return (over * over * width) / (2 * Math.abs(y1 - y0));
}

/** Pressure-time dose above a threshold: the integral of max(0, x - threshold), in mmHg.h for a signal in mmHg. */
export function doseAboveMmHgHours(signal: Signal, window: Interval, threshold: number): number {
  let area = 0;
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    area += areaOverZero(x0 - threshold, x1 - threshold, t1 - t0);
  });
  return area / HOUR_MS;
}

/** Pressure-time dose below a threshold: the integral of max(0, threshold - x), in mmHg.h for a signal in mmHg. */
export function doseBelowMmHgHours(signal: Signal, window: Interval, threshold: number): number {
  let area = 0;
  forEachPiece(signal, window, (t0, x0, t1, x1) => {
    area += areaOverZero(threshold - x0, threshold - x1, t1 - t0);
  });
  return area / HOUR_MS;
}
