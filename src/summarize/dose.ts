import type { Interval } from '../recording/interval.js';
import type { Signal } from '../recording/signal.js';
import { sumsOver } from './piece-sums.js';

/** Pressure-time dose above a threshold: the integral of max(0, x - threshold), in mmHg.h for a signal in mmHg. */
export const doseAboveMmHgHours = (signal: Signal, window: Interval, threshold: number): number =>
  sumsOver(signal, window, [threshold]).doseAbove(threshold);

/** Pressure-time dose below a threshold: the integral of max(0, threshold - x), in mmHg.h for a signal in mmHg. */
export const doseBelowMmHgHours = (signal: Signal, window: Interval, threshold: number): number =>
  sumsOver(signal, window, [threshold]).doseBelow(threshold);
