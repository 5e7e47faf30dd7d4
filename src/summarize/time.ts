import type { Interval } from '../recording/interval.js';
import { piecesWithin } from '../recording/pieces.js';
import type { Signal } from '../recording/signal.js';
import { HOUR_MS } from './hour.js';
import { type Band, risingLevels, sumsOver } from './piece-sums.js';

/** Hours over which the signal is known inside the window. */
export function monitoredHours(signal: Signal, window: Interval): number {
  const { first, last, cut } = piecesWithin(signal, window);
  const { times, known } = signal;
  let ms = 0;
  for (let i = first; i < last; i++) if (known[i] !== 0) ms += times[i + 1] - times[i];
  for (const { t0, t1 } of cut) ms += t1 - t0;
  return ms / HOUR_MS;
}

/** Hours over which x(t) > threshold, crossings exact. Threshold in the signal's unit. */
export const hoursAbove = (signal: Signal, window: Interval, threshold: number): number =>
  sumsOver(signal, window, [threshold]).hoursAbove(threshold);

/** Hours over which x(t) < threshold, crossings exact. */
export const hoursBelow = (signal: Signal, window: Interval, threshold: number): number =>
  sumsOver(signal, window, [threshold]).hoursBelow(threshold);

/** Hours over which x(t) lies in the band, crossings exact. */
export const hoursInBand = (signal: Signal, window: Interval, band: Band): number =>
  sumsOver(signal, window, risingLevels(band.from, band.to)).hoursIn(band);
