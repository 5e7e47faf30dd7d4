import type { Interval } from '../recording/interval.js';
import { cutTo } from '../recording/pieces.js';
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
  const { times, values, known } = cutTo(signal, window);
  let area = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (known[i])
      area += areaOverZero(values[i] - threshold, values[i + 1] - threshold, times[i + 1] - times[i]);
  }
  return area / HOUR_MS;
}

/** Pressure-time dose below a threshold: the integral of max(0, threshold - x), in mmHg.h for a signal in mmHg. */
export function doseBelowMmHgHours(signal: Signal, window: Interval, threshold: number): number {
  const { times, values, known } = cutTo(signal, window);
  let area = 0;
  for (let i = 0; i + 1 < times.length; i++) {
    if (known[i])
      area += areaOverZero(threshold - values[i], threshold - values[i + 1], times[i + 1] - times[i]);
  }
  return area / HOUR_MS;
}
