import { median, rollingMedian } from './rolling-median.js';
import type { Signal } from './signal.js';

/** Shortest and longest `maxGap` in milliseconds, whatever the sampling. */
const MIN_MAX_GAP_MS = 2_000;
const MAX_MAX_GAP_MS = 15 * 60_000;
/** A gap is longer than this many nominal intervals. */
const INTERVALS_PER_GAP = 3;
/** So many neighbouring spacings decide what the nominal interval is at a place. */
const STRETCH_SPACINGS = 21;

/** The longest distance in milliseconds between neighbouring samples over which x(t) is still known. */
export const maxGapMs = (nominalMs: number): number =>
  Math.min(MAX_MAX_GAP_MS, Math.max(MIN_MAX_GAP_MS, INTERVALS_PER_GAP * nominalMs));

/** Distances between neighbouring samples, milliseconds, one fewer than the times. */
function spacingsOf(times: Float64Array): Float64Array {
  const spacings = new Float64Array(Math.max(0, times.length - 1));
  for (let i = 0; i < spacings.length; i++) spacings[i] = times[i + 1] - times[i];
  return spacings;
}

/** True where so many spacings in a row are far from the usual one that the rate itself has changed. */
export function rateChanges(times: Float64Array, usual: number): boolean {
  let inRow = 0;
  for (let i = 1; i < times.length; i++) {
    inRow = Math.abs(times[i] - times[i - 1] - usual) > usual / 2 ? inRow + 1 : 0;
    if (inRow > STRETCH_SPACINGS / 2) return true;
  }
  return false;
}

/**
 * The median spacing of the samples in milliseconds; NaN under two samples. Where more than half of the spacings are the
 * same, as with a steady monitor, it is found without sorting.
 */
export function nominalIntervalMs(times: Float64Array): number {
  if (times.length < 2) return Number.NaN;
  let candidate = Number.NaN;
  let lead = 0;
  for (let i = 1; i < times.length; i++) {
    const spacing = times[i] - times[i - 1];
    if (lead === 0) candidate = spacing;
    lead += spacing === candidate ? 1 : -1;
  }
  let same = 0;
  for (let i = 1; i < times.length; i++) if (times[i] - times[i - 1] === candidate) same++;
  return 2 * same > times.length - 1 ? candidate : median(spacingsOf(times));
}

/** For each spacing the median of those around it: what the interval is at that place, also where the rate changes. */
function localSpacings(spacings: Float64Array): Float64Array {
  const half = (STRETCH_SPACINGS - 1) / 2;
  return rollingMedian(
    spacings,
    Uint32Array.from(spacings, (_, i) => Math.max(0, i - half)),
    Uint32Array.from(spacings, (_, i) => Math.min(spacings.length, i + half + 1)),
  );
}

/** For each spacing the nominal interval of the stretch that it stands in, milliseconds. */
export function intervalsAt(times: Float64Array): Float64Array {
  const spacings = spacingsOf(times);
  if (spacings.length === 0) return spacings;
  const usual = nominalIntervalMs(times);
  return rateChanges(times, usual) ? localSpacings(spacings) : spacings.fill(usual);
}

/**
 * The signal of samples as they came: a piece is known where it is no longer than `maxGap`, which follows
 * the nominal interval of the stretch that the piece stands in.
 *
 * @param usual the nominal interval where the caller knows it already
 */
export function signalOf(
  times: Float64Array,
  values: Float64Array,
  usual: number = nominalIntervalMs(times),
): Signal {
  const known = new Uint8Array(times.length);
  if (times.length < 2) return { times, values, known };
  const nominal = rateChanges(times, usual) ? localSpacings(spacingsOf(times)) : null;
  const longest = maxGapMs(usual);
  for (let i = 0; i + 1 < times.length; i++) {
    const gap = nominal ? maxGapMs(nominal[i]) : longest;
    known[i] = times[i + 1] - times[i] <= gap ? 1 : 0;
  }
  return { times, values, known };
}
