import { median } from '../recording/rolling-median.js';
import type { Signal } from '../recording/signal.js';

/** Median absolute deviation from the median, unscaled; NaN of an empty list. */
export function medianAbsoluteDeviation(values: Float64Array): number {
  if (values.length === 0) return Number.NaN;
  const middle = median(values);
  return median(values.map((value) => Math.abs(value - middle)));
}

/** A normal distribution's standard deviation is so many median absolute deviations. */
export const NORMAL = 1.4826;

const computed = new WeakMap<Signal, number>();

/**
 * Standard deviation of a channel's scatter from sample to sample, mmHg: from the differences of neighbours, so that
 * neither slow changes nor spikes count. 0 where most neighbours are equal.
 */
export function scatterOf(signal: Signal): number {
  const known = computed.get(signal);
  if (known !== undefined) return known;
  const { values } = signal;
  const differences = new Float64Array(Math.max(0, values.length - 1));
  for (let i = 0; i < differences.length; i++) differences[i] = values[i + 1] - values[i];
  const spread = (medianAbsoluteDeviation(differences) * NORMAL) / Math.SQRT2;
  const scatter = Number.isNaN(spread) ? 0 : spread;
  computed.set(signal, scatter);
  return scatter;
}
