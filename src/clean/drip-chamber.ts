/** Where a channel reads the drip chamber within what the log calls an open drain. */
import { type Interval, unite } from '../recording/interval.js';
import { firstAfter, firstAtOrAfter } from '../recording/search.js';
import type { Signal } from '../recording/signal.js';
import type { CalmAndLively } from './calm-stretches.js';
import { medianOver } from './median-over.js';

/** The log may be a little early: the chamber is read from 2 to 5 min after the opening. */
const CHAMBER_FROM_MS = 120_000;
const CHAMBER_TO_MS = 300_000;
const MINUTE_MS = 60_000;

const touches = (a: Interval, b: Interval): boolean => a.start <= b.end && b.start <= a.end;

/**
 * What is left of a logged span without the stretches in which the channel shows the patient: lively ones, where it lies calm
 * elsewhere in the span, and those far above the chamber. All of it where there is no such stretch.
 */
export function chamberIn(
  signal: Signal,
  span: Interval,
  { calm, lively }: CalmAndLively,
  { overChamberMmHg, livelySeconds }: { readonly overChamberMmHg: number; readonly livelySeconds: number },
): Interval[] {
  const { times } = signal;
  const calmInside = calm.filter((one) => touches(one, span));
  const patient = [
    ...(calmInside.length > 0 ? clipped(lively, span) : []),
    ...overChamber(signal, span, overChamberMmHg),
  ].filter(({ start, end }) => end - start >= livelySeconds * 1000);
  const pieces: Interval[] = [];
  let { start } = span;
  for (const one of unite(patient)) {
    if (one.start > start) pieces.push({ start, end: times[firstAtOrAfter(times, one.start) - 1] });
    start = times[firstAfter(times, one.end)] ?? Number.POSITIVE_INFINITY;
  }
  if (start <= span.end) pieces.push({ start, end: span.end });
  return pieces.filter((piece) => calmInside.length === 0 || calmInside.some((one) => touches(one, piece)));
}

const clipped = (stretches: readonly Interval[], span: Interval): Interval[] =>
  stretches.map(({ start, end }) => ({ start: Math.max(start, span.start), end: Math.min(end, span.end) }));

/** Runs of minutes whose median stands so far above the chamber. */
function overChamber(signal: Signal, { start, end }: Interval, overMmHg: number): Interval[] {
  const chamber = medianOver(signal, start + CHAMBER_FROM_MS, Math.min(end, start + CHAMBER_TO_MS));
  const runs: Interval[] = [];
  let from: number | null = null;
  for (let at = start + CHAMBER_TO_MS; from !== null || at < end; at += MINUTE_MS) {
    const isOver =
      at < end && medianOver(signal, at, Math.min(end, at + MINUTE_MS - 1)) >= chamber + overMmHg;
    if (isOver) from ??= at;
    else if (from !== null) {
      runs.push({ start: from, end: Math.min(end, at - 1) });
      from = null;
    }
  }
  return runs;
}
