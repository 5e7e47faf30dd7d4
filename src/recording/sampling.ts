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
function rateChanges(spacings: Float64Array, usual: number): boolean {
  let inRow = 0;
  for (let i = 0; i < spacings.length; i++) {
    inRow = Math.abs(spacings[i] - usual) > usual / 2 ? inRow + 1 : 0;
    if (inRow > STRETCH_SPACINGS / 2) return true;
  }
  return false;
}

/** The median; where more than half of the values are the same, as with a steady monitor, without sorting. */
function usualOf(spacings: Float64Array): number {
  let candidate = spacings[0];
  let lead = 0;
  for (let i = 0; i < spacings.length; i++) {
    if (lead === 0) candidate = spacings[i];
    lead += spacings[i] === candidate ? 1 : -1;
  }
  let same = 0;
  for (let i = 0; i < spacings.length; i++) if (spacings[i] === candidate) same++;
  return 2 * same > spacings.length ? candidate : median(spacings);
}

/** The median spacing of the samples in milliseconds; NaN under two samples. */
export const nominalIntervalMs = (times: Float64Array): number =>
  times.length < 2 ? Number.NaN : usualOf(spacingsOf(times));

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
  const usual = usualOf(spacings);
  return rateChanges(spacings, usual)
    ? localSpacings(spacings)
    : new Float64Array(spacings.length).fill(usual);
}

/**
 * The signal of samples as they came: a piece is known where it is no longer than `maxGap`, which follows
 * the nominal interval of the stretch that the piece stands in.
 */
export function signalOf(times: Float64Array, values: Float64Array): Signal {
  const known = new Uint8Array(times.length);
  const spacings = spacingsOf(times);
  if (spacings.length > 0) {
    const usual = usualOf(spacings);
    const nominal = rateChanges(spacings, usual) ? localSpacings(spacings) : null;
    for (let i = 0; i < spacings.length; i++) {
      known[i] = spacings[i] <= maxGapMs(nominal ? nominal[i] : usual) ? 1 : 0;
    }
  }
  return { times, values, known };
}
